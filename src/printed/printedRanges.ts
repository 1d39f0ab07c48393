import type { RoundingRange } from "./printedNumber.js";

// rounding ranges are closed; this much is arithmetic noise
const noise = 1e-9;

/** Do two ranges touch? */
export const meets = (one: RoundingRange, other: RoundingRange): boolean =>
  one.low <= other.high + noise && other.low <= one.high + noise;

/** A range times a positive factor. */
export const times = ({ low, high }: RoundingRange, factor: number): RoundingRange => ({
  low: low * factor,
  high: high * factor,
});

/** One positive range divided by another. */
export const over = (one: RoundingRange, other: RoundingRange): RoundingRange => ({
  low: Math.max(0, one.low) / other.high,
  high: other.low > 0 ? one.high / other.low : Number.POSITIVE_INFINITY,
});

/**
 * Half-widths for which one interval, symmetric about its centre, prints as all three numbers;
 * null where none does.
 */
export function halfWidths(
  centre: RoundingRange,
  low: RoundingRange,
  high: RoundingRange,
): RoundingRange | null {
  const least = Math.max(
    0,
    high.low - centre.high,
    centre.low - low.high,
    (high.low - low.high) / 2,
  );
  const greatest = Math.min(
    centre.high - low.low,
    high.high - centre.low,
    (high.high - low.low) / 2,
  );
  return least <= greatest + noise ? { low: least, high: Math.max(least, greatest) } : null;
}
