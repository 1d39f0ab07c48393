/** An entry of a column as an error shows it: a word in quotes, so that "1" is not taken for 1. */
export function shownValue(value: unknown): string {
  if (value === "") return "an empty word";
  return typeof value === "string" ? JSON.stringify(value) : String(value);
}
