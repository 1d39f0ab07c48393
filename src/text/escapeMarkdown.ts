import { plainText } from "./plainText.js";

/** Text that Markdown prints as it stands, on a line of its own. */
export function escapeMarkdown(text: string): string {
  return escapeMarkdownCell(text).replace(
    /^(\s*)([#>+-]|\d+[.)])(?=\s)/,
    (_, space, mark) => `${space}${mark.slice(0, -1)}\\${mark.slice(-1)}`,
  );
}

/** The same within a line, where "> 2" begins no quotation and "1. " no list. */
export function escapeMarkdownCell(text: string): string {
  return plainText(text)
    .replace(/\s*\r?\n\s*/g, " ")
    .replace(/[\\`*_[\]|~]/g, "\\$&")
    .replace(/&/g, "&amp;")
    .replace(/</g, "&lt;");
}
