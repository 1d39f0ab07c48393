import { plainText } from "./plainText.js";

/** A cell of CSV (RFC 4180), to be read again by a program: as it is, in quotes where it needs them. */
export function csvCell(text: string): string {
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}

/** A cell for people: no spreadsheet takes it for a formula. */
export function csvText(text: string): string {
  const plain = plainText(text);
  return csvCell(/^\s*[=+\-@\t\r]/.test(plain) ? `'${plain}` : plain);
}
