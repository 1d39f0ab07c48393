import { type Estimate, type Undefined, undefinedBecause } from "../results/index.js";
import { normalQuantile } from "./distributions.js";
import { scoreLimit } from "./scoreLimit.js";
import { logEstimate } from "./transformedEstimate.js";

/** Two independent proportions, x of n each. */
export interface TwoSamples {
  readonly x1: number;
  readonly n1: number;
  readonly x2: number;
  readonly n2: number;
}

/**
 * The ratio (x1/n1) / (x2/n2) with the score interval of Koopman 1984, which needs no correction
 * for zero cells. A ratio of 0 has low 0; an infinite ratio is undefined but keeps its lower limit.
 */
export function riskRatioScore(counts: TwoSamples, level: number): Estimate | Undefined {
  const { x1, n1, x2, n2 } = counts;
  if (n1 === 0 || n2 === 0) return undefinedBecause("one of the two groups is empty");
  if (x1 === 0 && x2 === 0) return undefinedBecause("0 divided by 0: neither group has an event");
  const z = normalQuantile(1 - (1 - level) / 2);
  const score = (ratio: number) => koopmanScore(counts, ratio);
  const value = x1 / n1 / (x2 / n2);
  const low = x1 === 0 ? 0 : scoreLimit(score, z, Number.isFinite(value) ? value : 1e12, "down");
  if (x2 === 0) return undefinedBecause("infinite: the denominator is 0", { low });
  const high = scoreLimit(score, -z, value > 0 ? value : 1e-12, "up");
  return { kind: "estimate", value, low, high, level, method: "score" };
}

/** The same ratio with the interval on the log scale (Katz 1978; Simel 1991); needs x1, x2 > 0. */
export function riskRatioLog(counts: TwoSamples, level: number): Estimate | Undefined {
  const { x1, n1, x2, n2 } = counts;
  if (x1 === 0 || x2 === 0) {
    return undefinedBecause("the log interval needs events in both groups");
  }
  const value = x1 / n1 / (x2 / n2);
  const se = Math.sqrt(1 / x1 - 1 / n1 + 1 / x2 - 1 / n2);
  return logEstimate(value, se, level, "log");
}

/** Score of `ratio` with the second proportion at its maximum likelihood under that ratio. */
function koopmanScore({ x1, n1, x2, n2 }: TwoSamples, ratio: number): number {
  // the discriminant b² - 4ac written as a sum, since the difference loses half the digits near p = 1
  const root = Math.sqrt((ratio * (n1 + x2) - x1 - n2) ** 2 + 4 * ratio * (n1 - x1) * (n2 - x2));
  const p2 = (2 * (x1 + x2)) / (ratio * (n1 + x2) + x1 + n2 + root);
  const p1 = ratio * p2;
  const variance =
    (p1 * Math.max(0, 1 - p1)) / n1 + (ratio * ratio * p2 * Math.max(0, 1 - p2)) / n2;
  const distance = x1 / n1 - ratio * (x2 / n2);
  return distance === 0 ? 0 : distance / Math.sqrt(variance);
}
