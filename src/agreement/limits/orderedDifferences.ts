import { sortNumbers } from "../../inference/index.js";
import type { FarDifferences } from "./pairMoments.js";

/** The difference of each rank, counted from 1 at the lowest; rows are sorted when a rank asks for it. */
export type RankedDifferences = (rank: number) => number;

/**
 * Ranks of test minus reference. Those in the tails come from the differences that were set aside on
 * the way to the moments, so that a million rows need no sort.
 */
export function rankedDifferences(
  { test, reference }: { readonly test: ArrayLike<number>; readonly reference: ArrayLike<number> },
  far?: FarDifferences,
): RankedDifferences {
  const n = test.length;
  const tails = far && sortNumbers(Float64Array.from(far.differences));
  let below = 0;
  let above = 0;
  if (tails && far) {
    while (below < tails.length && tails[below] < far.lowest) below++;
    while (above < tails.length && tails[tails.length - 1 - above] > far.highest) above++;
  }
  let sorted: Float64Array | undefined;
  return (rank) => {
    if (tails && rank <= below) return tails[rank - 1];
    if (tails && rank > n - above) return tails[tails.length - 1 - (n - rank)];
    sorted ??= sortNumbers(
      Float64Array.from({ length: n }, (_, row) => test[row] - reference[row]),
    );
    return sorted[rank - 1];
  };
}

/** Quantile of type 7: linear between neighbouring ranks. */
export function quantileOfRanks(at: RankedDifferences, n: number, share: number): number {
  const place = share * (n - 1);
  const below = Math.floor(place + 1e-9);
  const part = place - below;
  const low = at(below + 1);
  // No step to a neighbour for a rounding error of the place.
  return part < 1e-9 ? low : low + part * (at(Math.min(n, below + 2)) - low);
}
