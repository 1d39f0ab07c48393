import { type Share, shareOfClusters } from "../inference/index.js";
import type { ChildTotals } from "./childTotals.js";

/** One number a cell: true positive, false positive, false negative, true negative. */
export type PerCell = readonly [number, number, number, number];

/** A proportion of rows: which cells count in its numerator and in its denominator (1 or 0). */
interface RowShare {
  readonly numerator: PerCell;
  readonly denominator: PerCell;
}

export const rowShares = {
  sensitivity: { numerator: [1, 0, 0, 0], denominator: [1, 0, 1, 0] },
  specificity: { numerator: [0, 0, 0, 1], denominator: [0, 1, 0, 1] },
  positivePredictiveValue: { numerator: [1, 0, 0, 0], denominator: [1, 1, 0, 0] },
  negativePredictiveValue: { numerator: [0, 0, 0, 1], denominator: [0, 0, 1, 1] },
  prevalence: { numerator: [1, 0, 1, 0], denominator: [1, 1, 1, 1] },
  referralRate: { numerator: [1, 1, 0, 0], denominator: [1, 1, 1, 1] },
} as const satisfies Record<string, RowShare>;

/** A share of rows with its derivative by each cell's count. */
export interface LinearShare extends Share {
  readonly gradient: PerCell;
}

/** A share of clustered rows, linearised. */
export function linearShare(
  { counts }: ChildTotals,
  { numerator, denominator }: RowShare,
): LinearShare {
  const successes = new Float64Array(counts.length / 4);
  const rows = new Float64Array(counts.length / 4);
  for (let at = 0; at < counts.length; at++) {
    successes[at >> 2] += numerator[at & 3] * counts[at];
    rows[at >> 2] += denominator[at & 3] * counts[at];
  }
  const share = shareOfClusters({ successes, rows });
  const value = share.successes / share.trials;
  const weight = (cell: number) =>
    denominator[cell] === 0 ? 0 : (numerator[cell] - value) / share.trials;
  return { ...share, gradient: [weight(0), weight(1), weight(2), weight(3)] };
}

/**
 * Variance over children of a number whose derivative by each cell's count is `gradient` (Taylor
 * linearisation, the full covariance of the four child totals in it), with the factor m / (m - 1)
 * for m clusters. The linearised totals of ratios sum to 0, so no mean is taken off.
 */
export function linearVariance(totals: ChildTotals, gradient: PerCell, clusters: number): number {
  return clusters < 2
    ? Number.NaN
    : (clusters / (clusters - 1)) * linearCovariance(totals, gradient, gradient);
}

/** Covariance of two linearised numbers over children, without small-sample factor. */
export function linearCovariance({ counts }: ChildTotals, one: PerCell, other: PerCell): number {
  let sum = 0;
  for (let at = 0; at < counts.length; at += 4) {
    let first = 0;
    let second = 0;
    for (let cell = 0; cell < 4; cell++) {
      first += one[cell] * counts[at + cell];
      second += other[cell] * counts[at + cell];
    }
    sum += first * second;
  }
  return sum;
}

/** Adds two gradients, each with its factor. */
export const combined = (one: PerCell, a: number, other: PerCell, b: number): PerCell => [
  a * one[0] + b * other[0],
  a * one[1] + b * other[1],
  a * one[2] + b * other[2],
  a * one[3] + b * other[3],
];
