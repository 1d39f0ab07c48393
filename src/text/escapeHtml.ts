import { plainText } from "./plainText.js";

/** A text as part of a page, between tags or inside a quoted attribute. */
export function escapeHtml(text: string): string {
  return plainText(text)
    .replaceAll("&", "&amp;")
    .replaceAll("<", "&lt;")
    .replaceAll(">", "&gt;")
    .replaceAll('"', "&quot;")
    .replaceAll("'", "&#39;");
}
