import type { CoarseRate } from "./coarseRate.js";

/**
 * A rate that rises with each of two coarse ones, such as a predictive value with sensitivity and specificity: from
 * both lower ends to both upper ones. Nothing is in it that is not in the two.
 *
 * @param rateAt the rate; NaN where it is none
 */
export function risingRate(
  one: CoarseRate | null,
  other: CoarseRate | null,
  rateAt: (one: number, other: number) => number,
): CoarseRate | null {
  if (one === null || other === null) return null;
  const [from, to] = [rateAt(one.from, other.from), rateAt(one.to, other.to)];
  if (Number.isNaN(from) || Number.isNaN(to)) return null;
  const limit = (end: "low" | "high") => {
    const [a, b] = [one[end], other[end]];
    const found = a === null || b === null ? Number.NaN : rateAt(a, b);
    return Number.isNaN(found) ? null : found;
  };
  return { ...one, from, to, low: limit("low"), high: limit("high") };
}
