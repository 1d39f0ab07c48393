import {
  clopperPearsonLimits,
  normalQuantile,
  waldLimits,
  wilsonLimits,
} from "../inference/index.js";
import type { Estimate } from "../results/index.js";

/** Intervals that a plan of proportions knows; "wald" is there to reproduce print. */
export type PlannedInterval = "wilson" | "clopper-pearson" | "wald";

/** The limits of x of n, where n may be an expected number and so not whole. */
export function plannedLimits(
  method: PlannedInterval,
  x: number,
  n: number,
  level: number,
): [number, number] {
  if (method === "clopper-pearson") return clopperPearsonLimits(x, n, 1 - level);
  const z = normalQuantile((1 + level) / 2);
  return method === "wilson" ? wilsonLimits(x, n, z) : waldLimits(x, n, z);
}

/** The interval of a study that finds exactly the expected share among the expected number. */
export function expectedInterval(
  method: PlannedInterval,
  share: number,
  n: number,
  level: number,
): Estimate {
  const [low, high] = plannedLimits(method, share * n, n, level);
  return { kind: "estimate", value: share, low, high, level, method };
}

/** Half the whole width: intervals of shares are wider towards one half. */
export function halfWidthOf({
  low,
  high,
}: {
  readonly low: number;
  readonly high: number;
}): number {
  return (high - low) / 2;
}
