import { type Estimate, type Undefined, undefinedBecause } from "../results/index.js";
import { normalQuantile } from "./distributions.js";
import type { TwoSamples } from "./riskRatioInterval.js";
import { scoreLimit } from "./scoreLimit.js";
import { logEstimate } from "./transformedEstimate.js";

/**
 * The odds ratio of two independent proportions with its score interval (Cornfield 1956 without
 * continuity correction), which needs no correction for zero cells. An odds ratio of 0 has low 0;
 * an infinite one is undefined but keeps its lower limit.
 */
export function oddsRatioScore(counts: TwoSamples, level: number): Estimate | Undefined {
  const { x1, n1, x2, n2 } = counts;
  const numerator = x1 * (n2 - x2);
  const denominator = (n1 - x1) * x2;
  if (numerator === 0 && denominator === 0) return undefinedBecause("0 divided by 0");
  const z = normalQuantile(1 - (1 - level) / 2);
  const score = (ratio: number) => oddsScore(counts, ratio);
  const value = numerator / denominator;
  const low = numerator === 0 ? 0 : scoreLimit(score, z, denominator === 0 ? 1e12 : value, "down");
  if (denominator === 0) return undefinedBecause("infinite: the denominator is 0", { low });
  const high = scoreLimit(score, -z, numerator === 0 ? 1e-12 : value, "up");
  return { kind: "estimate", value, low, high, level, method: "score" };
}

/** The same odds ratio with the interval on the log scale (Woolf 1955); needs every cell > 0. */
export function oddsRatioLog(counts: TwoSamples, level: number): Estimate | Undefined {
  const { x1, n1, x2, n2 } = counts;
  const cells = [x1, n1 - x1, x2, n2 - x2];
  if (cells.includes(0)) return undefinedBecause("the log interval needs every cell above 0");
  const value = (x1 * (n2 - x2)) / ((n1 - x1) * x2);
  const se = Math.sqrt(cells.reduce((sum, cell) => sum + 1 / cell, 0));
  return logEstimate(value, se, level, "log");
}

/** Distance of x1 from its expectation under the odds ratio and both margins, in its own SE. */
function oddsScore({ x1, n1, x2, n2 }: TwoSamples, ratio: number): number {
  const m1 = x1 + x2;
  const m2 = n1 + n2 - m1;
  // the discriminant written as a sum, since the difference loses digits
  const root = Math.sqrt(
    ratio ** 2 * (n1 - m1) ** 2 + 2 * ratio * (n1 * n2 + m1 * m2) + (n2 - m1) ** 2,
  );
  const expected = (2 * ratio * n1 * m1) / (ratio * (n1 + m1) + n2 - m1 + root);
  const information =
    1 / expected + 1 / (n1 - expected) + 1 / (m1 - expected) + 1 / (n2 - m1 + expected);
  return (x1 - expected) * Math.sqrt(information);
}
