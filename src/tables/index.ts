export { toCsv } from "./toCsv.js";
export { toHtml } from "./toHtml.js";
export { toLatex } from "./toLatex.js";
export { toMarkdown } from "./toMarkdown.js";
export { toWord } from "./toWord.js";
