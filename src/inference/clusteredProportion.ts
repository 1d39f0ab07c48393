import { type Estimate, type Undefined, undefinedBecause } from "../results/index.js";
import { normalQuantile } from "./distributions.js";
import { wilsonLimits } from "./wilsonInterval.js";

/**
 * A proportion of clustered rows: Wilson's limits on the effective sample size p(1 - p)/variance,
 * the variance being that between clusters (Rao and Scott 1992). The effective size is never taken
 * above the number of rows; at exactly 0 or 1, where the variance is 0, it is the number of clusters.
 */
export function clusteredProportion(
  counts: {
    readonly successes: number;
    readonly trials: number;
    readonly variance: number;
    readonly clusters: number;
  },
  level: number,
): Estimate | Undefined {
  const { successes, trials, clusters } = counts;
  if (trials === 0) return undefinedBecause("no rows: the denominator is 0");
  const value = successes / trials;
  const z = normalQuantile(1 - (1 - level) / 2);
  if (successes === 0 || successes === trials) {
    const [low, high] = wilsonLimits(value * clusters, clusters, z);
    return { kind: "estimate", value, low, high, level, method: "wilson-on-children" };
  }
  if (clusters < 2)
    return undefinedBecause("rows of fewer than 2 children: no variance between them");
  const size = effectiveSize(counts);
  const [low, high] = wilsonLimits(value * size, size, z);
  const se = Math.sqrt(counts.variance);
  return { kind: "estimate", value, low, high, level, method: "wilson-clustered", se };
}

/** The same from each cluster's successes and rows: ratio estimator, factor m / (m - 1). */
export function clusteredRate(
  successes: ArrayLike<number>,
  rows: ArrayLike<number>,
  level: number,
): Estimate | Undefined {
  let total = 0;
  let trials = 0;
  let clusters = 0;
  for (let at = 0; at < rows.length; at++) {
    total += successes[at];
    trials += rows[at];
    if (rows[at] > 0) clusters++;
  }
  let squares = 0;
  for (let at = 0; at < rows.length; at++) {
    squares += (trials * successes[at] - rows[at] * total) ** 2;
  }
  const variance = ((clusters / (clusters - 1)) * squares) / trials ** 4;
  return clusteredProportion({ successes: total, trials, variance, clusters }, level);
}

/** Rows that would carry as much, were they independent; between 0 and the rows there are. */
export function effectiveSize(counts: {
  readonly successes: number;
  readonly trials: number;
  readonly variance: number;
  readonly clusters: number;
}): number {
  const p = counts.successes / counts.trials;
  if (p === 0 || p === 1) return counts.clusters;
  return Math.min(counts.trials, (p * (1 - p)) / counts.variance);
}
