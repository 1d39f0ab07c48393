// Results to table models and their writers.

export { columnWidths } from "./columnWidths.js";
export { wholePart } from "./decimalPlaces.js";
export { estimateDecimals, numberText, percentText, probabilityText } from "./numberText.js";
export { type PrintedTable, type PrintOptions, printedTable } from "./printedTable.js";
export { toCsv } from "./toCsv.js";
export { toHtml } from "./toHtml.js";
export { toLatex } from "./toLatex.js";
export { toMarkdown } from "./toMarkdown.js";
export { toWord } from "./toWord.js";
export { toWorkbook } from "./toWorkbook.js";
export { captionRuns, type Docx, fixedDate, wordFile, wordTextWidth } from "./wordFile.js";
export { wordTable } from "./wordTable.js";
