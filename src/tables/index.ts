export { toCsv } from "./toCsv.js";
export { toHtml } from "./toHtml.js";
export { toMarkdown } from "./toMarkdown.js";
