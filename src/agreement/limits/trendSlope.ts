import { tEstimate } from "../../inference/index.js";
import { type Estimate, type Undefined, undefinedBecause } from "../../results/index.js";
import { type Clusters, clustersOf } from "../../rows/index.js";
import { centred, coefficientEstimate, linearFit } from "../regression/robustRegression.js";
import type { PairMoments } from "./pairMoments.js";

/** What the differences are regressed on. */
export type Trend = "mean" | "reference" | "test";

/**
 * Slope of test minus reference on their mean (or on one of them), by least squares. Errors do not
 * take the spread for constant: HC3 for independent rows, cluster-robust where subjects repeat. On the reference the slope is partly artefact: two
 * equally good measurements of one quantity give a negative slope on the reference and a positive
 * one on the test (Bland and Altman 1995).
 */
export function trendSlope(
  { test, reference }: { readonly test: ArrayLike<number>; readonly reference: ArrayLike<number> },
  moments: PairMoments,
  trend: Trend,
  level: number,
  subjects?: Clusters,
): Estimate | Undefined {
  const n = test.length;
  const flat = undefinedBecause(`the ${trend} does not vary`);
  if (trend === "mean" && !subjects?.repeated) {
    if (!(moments.sumSquares > 0)) return flat;
    // The mean is half the sum.
    const value = (2 * moments.products) / moments.sumSquares;
    const se = slopeError(test, reference, moments, value);
    return tEstimate(value, se, { df: n - 2, level, method: "t-robust" });
  }
  const differences = Float64Array.from({ length: n }, (_, row) => test[row] - reference[row]);
  const against =
    trend === "test"
      ? test
      : trend === "reference"
        ? reference
        : Float64Array.from({ length: n }, (_, row) => (test[row] + reference[row]) / 2);
  const column = centred(against);
  if (column === null) return flat;
  const ones = new Float64Array(n).fill(1);
  const clusters = subjects ?? clustersOf("limitsOfAgreement", undefined, n);
  const fit = linearFit(differences, [ones, column], clusters);
  return fit === null ? flat : coefficientEstimate(fit, 1, level);
}

/** HC3 of the slope on the mean, without a copy of a column; as `linearFit` has it. */
function slopeError(
  test: ArrayLike<number>,
  reference: ArrayLike<number>,
  { n, bias, meanSum, sumSquares }: PairMoments,
  slope: number,
): number {
  const spread = sumSquares / 4;
  let squares = 0;
  for (let row = 0; row < n; row++) {
    const from = (test[row] + reference[row] - meanSum) / 2;
    const left = 1 - 1 / n - (from * from) / spread;
    if (left < 1e-9) continue;
    const share = (from * (test[row] - reference[row] - bias - slope * from)) / left;
    squares += share * share;
  }
  return Math.sqrt(squares) / spread;
}
