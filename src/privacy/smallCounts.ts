import type { TwoByTwo } from "../results/index.js";

/** The least count above 0 that the public may see, unless a caller says otherwise. */
export const smallestCount = 11;

/** Whether a count is too small to be shown: above 0 and below `fewerThan`; 0 is shown. */
export function isSmallCount(count: number, fewerThan: number = smallestCount): boolean {
  return count > rounding && count < fewerThan - rounding;
}

/** Whether a rate of this 2x2 table would give a small count back. */
export function hasSmallCell(table: TwoByTwo): boolean {
  return Object.values(table).some((count) => isSmallCount(count));
}

/** Sums of weights are counts with what floating point leaves of them. */
export const rounding = 1e-6;
