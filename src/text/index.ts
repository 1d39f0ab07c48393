// What leaves the program as text: cleaned once, escaped for the language that it is written into.

export { csvCell, csvText } from "./csvCell.js";
export { escapeHtml } from "./escapeHtml.js";
export { escapeLatex } from "./escapeLatex.js";
export { escapeMarkdown, escapeMarkdownCell } from "./escapeMarkdown.js";
export { jsonText } from "./jsonText.js";
export { eachText, plainText, plainTexts } from "./plainText.js";
