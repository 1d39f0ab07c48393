import { tQuantile } from "../../inference/index.js";
import { type Estimate, type Undefined, undefinedBecause } from "../../results/index.js";
import { type Clusters, clustersOf } from "../../rows/index.js";
import { averageOf } from "../averageOf.js";
import { coefficientEstimate, linearFit } from "../regression/robustRegression.js";
import type { PairMoments } from "./pairMoments.js";

/** What the differences are regressed on. */
export type Trend = "mean" | "reference" | "test";

/**
 * Slope of test minus reference on their mean (or on one of them), by least squares, with
 * cluster-robust errors where subjects repeat. On the reference the slope is partly artefact: two
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
    const residual = Math.max(0, moments.squares - (value * moments.products) / 2);
    const se = Math.sqrt((4 * residual) / (n - 2) / moments.sumSquares);
    const half = tQuantile((1 + level) / 2, n - 2) * se;
    return {
      kind: "estimate",
      value,
      low: value - half,
      high: value + half,
      level,
      method: "t",
      se,
    };
  }
  const differences = Float64Array.from({ length: n }, (_, row) => test[row] - reference[row]);
  const against =
    trend === "test"
      ? test
      : trend === "reference"
        ? reference
        : Float64Array.from({ length: n }, (_, row) => (test[row] + reference[row]) / 2);
  const centre = averageOf(against);
  const centred = Float64Array.from({ length: n }, (_, row) => against[row] - centre);
  const ones = new Float64Array(n).fill(1);
  const clusters = subjects ?? clustersOf("limitsOfAgreement", undefined, n);
  const fit = linearFit(differences, [ones, centred], clusters);
  return fit === null ? flat : coefficientEstimate(fit, 1, level);
}
