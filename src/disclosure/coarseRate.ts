import type { CoarseCount } from "./coarseCount.js";

declare const coarse: unique symbol;

/** What coarse counts say of a rate: its range, and the outermost limits of its interval. */
export interface CoarseRate {
  readonly kind: "coarse-rate";
  readonly from: number;
  readonly to: number;
  /** Null where no interval can be given at one of the ends. */
  readonly low: number | null;
  readonly high: number | null;
  readonly [coarse]: true;
}

/** A rate's interval at given counts. */
export interface RateLimits {
  readonly low?: number | undefined;
  readonly high?: number | undefined;
}

/**
 * The least and the greatest that a rate can be over the ranges of its coarse counts, and the limits
 * of its interval there. A rate that rises or falls in each of its counts has its extremes where every
 * count is at an end of its range; they are found by moving one count at a time.
 *
 * @param rateAt the rate at counts, NaN where it is none
 * @param limitsOf the interval at counts
 * @returns null where no counts in the ranges give a rate
 */
export function coarseRate(
  cells: readonly CoarseCount[],
  rateAt: (counts: readonly number[]) => number,
  limitsOf: (counts: readonly number[]) => RateLimits,
): CoarseRate | null {
  const least = extreme(cells, rateAt, (one, other) => one < other);
  const most = extreme(cells, rateAt, (one, other) => one > other);
  if (least === null || most === null) return null;
  const [low, high] = [limitsOf(least.counts).low, limitsOf(most.counts).high];
  return {
    kind: "coarse-rate",
    from: least.value,
    to: most.value,
    low: low === undefined ? null : Math.min(low, least.value),
    high: high === undefined ? null : Math.max(high, most.value),
  } as CoarseRate;
}

/** A rate that is known to lie within another range of the same coarse counts, such as corrected within its bounds. */
export function rateWithin(rate: CoarseRate | null, within: CoarseRate | null): CoarseRate | null {
  if (rate === null || within === null) return rate;
  const from = Math.max(rate.from, within.from);
  const to = Math.min(rate.to, within.to);
  if (from > to) return rate;
  const { low, high } = rate;
  return {
    ...rate,
    from,
    to,
    low: low === null ? null : Math.min(low, from),
    high: high === null ? null : Math.max(high, to),
  };
}

/** What is left of the whole: the share of those who are not counted. */
export function restOf(rate: CoarseRate): CoarseRate {
  const { from, to, low, high } = rate;
  return {
    ...rate,
    from: 1 - to,
    to: 1 - from,
    low: high === null ? null : 1 - high,
    high: low === null ? null : 1 - low,
  };
}

/** Moves one count at a time to the better end of its range until none moves. */
function extreme(
  cells: readonly CoarseCount[],
  rateAt: (counts: readonly number[]) => number,
  isBetter: (one: number, other: number) => boolean,
): { readonly counts: readonly number[]; readonly value: number } | null {
  const counts = cells.map(({ low, high }) => Math.max(Math.min(1, high), low));
  let value = rateAt(counts);
  for (let moved = true; moved; ) {
    moved = false;
    for (const [at, { low, high }] of cells.entries()) {
      for (const end of [low, high]) {
        const before = counts[at]!;
        if (end === before) continue;
        counts[at] = end;
        const other = rateAt(counts);
        if (Number.isNaN(value) ? !Number.isNaN(other) : isBetter(other, value)) {
          value = other;
          moved = true;
        } else counts[at] = before;
      }
    }
  }
  return Number.isNaN(value) ? null : { counts, value };
}

/**
 * A rate in whole percent, rounded outwards: "89 to 100 % (80 to 100)".
 *
 * @param scale 100 for percent
 */
export function rateWords(rate: CoarseRate | null, scale = 100, unit = " %"): string {
  if (rate === null) return "not estimated";
  const range = (low: number, high: number) => {
    const [from, to] = outwards(low, high, scale);
    return from === to ? String(from) : `${from} to ${to}`;
  };
  const limits = rate.low === null || rate.high === null ? "" : ` (${range(rate.low, rate.high)})`;
  return `${range(rate.from, rate.to)}${unit}${limits}`;
}

/** The ends of a range as they are printed: whole, rounded outwards. */
export function outwards(low: number, high: number, scale = 100): readonly [number, number] {
  return [Math.floor(scale * low + 1e-9), Math.ceil(scale * high - 1e-9)];
}
