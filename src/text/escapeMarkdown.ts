import { plainText } from "./plainText.js";

/** Text that Markdown prints as it stands, on one line. */
export function escapeMarkdown(text: string): string {
  return plainText(text)
    .replace(/\s*\r?\n\s*/g, " ")
    .replace(/[\\`*_[\]|~]/g, "\\$&")
    .replace(/&/g, "&amp;")
    .replace(/</g, "&lt;")
    .replace(
      /^(\s*)([#>+-]|\d+[.)])(?=\s)/,
      (_, space, mark) => `${space}${mark.slice(0, -1)}\\${mark.slice(-1)}`,
    );
}
