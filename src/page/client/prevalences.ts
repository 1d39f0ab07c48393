/** Shares as a person writes them, in per cent; null where it is no list of them. */
export function sharesOf(text: string): readonly number[] | null {
  const parts = text
    .split(/[,;]/)
    .map((part) => part.replace("%", "").trim())
    .filter((part) => part !== "");
  const shares = parts.map((part) => Number((Number(part) / 100).toPrecision(12)));
  return shares.length <= 6 && shares.every((share) => share > 0 && share < 1) ? shares : null;
}

/** The same the other way round; what is no list of shares stands as it was typed. */
export function perCentOf(shares: unknown): string {
  if (!Array.isArray(shares)) return shares === undefined ? "" : String(shares);
  return shares.map((share) => String(Number((100 * share).toPrecision(12)))).join(", ");
}
