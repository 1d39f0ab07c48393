/**
 * Data as JSON that may stand on a terminal or within a page: what is no plain letter or sign, and "<", are
 * written as escapes, which leave the data as they are.
 */
export function jsonText(value: unknown, indent?: number): string {
  return JSON.stringify(value, null, indent).replace(
    /[<\u007f-\u009f\u061c\u2028-\u202e\u2066-\u2069\ufffe\uffff]/g,
    (sign) => `\\u${sign.charCodeAt(0).toString(16).padStart(4, "0")}`,
  );
}
