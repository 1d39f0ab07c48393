import { normalQuantile, wilsonLimits } from "../inference/index.js";
import type { Estimate } from "../results/index.js";
import type { Clusters } from "../rows/index.js";

/**
 * Share of rows that meet a condition. Wilson's interval for independent rows; where clusters
 * repeat, Wilson's on the effective number of rows, n over the design effect of the ratio estimator
 * (Rao and Scott 1992); a share of 0 or 1 counts children instead.
 */
export function clusteredShare(
  holds: (row: number) => boolean,
  clusters: Clusters,
  level: number,
): Estimate {
  const n = clusters.ofRow.length;
  const perCluster = new Float64Array(clusters.count);
  let successes = 0;
  for (let row = 0; row < n; row++) {
    if (!holds(row)) continue;
    successes++;
    perCluster[clusters.ofRow[row]]++;
  }
  const z = normalQuantile((1 + level) / 2);
  const value = successes / n;
  if (!clusters.repeated) {
    const [low, high] = wilsonLimits(successes, n, z);
    return { kind: "estimate", value, low, high, level, method: "wilson" };
  }
  if (successes === 0 || successes === n) {
    const [low, high] = wilsonLimits(value * clusters.count, clusters.count, z);
    return { kind: "estimate", value, low, high, level, method: "wilson-children" };
  }
  let squares = 0;
  for (let c = 0; c < clusters.count; c++) {
    squares += (perCluster[c] - clusters.sizes[c] * value) ** 2;
  }
  const variance = ((squares / n / n) * clusters.count) / (clusters.count - 1);
  const effective = variance > 0 ? (value * (1 - value)) / variance : clusters.count;
  const [low, high] = wilsonLimits(value * effective, effective, z);
  return {
    kind: "estimate",
    value,
    low,
    high,
    level,
    method: "wilson-design-effect",
    se: Math.sqrt(variance),
  };
}
