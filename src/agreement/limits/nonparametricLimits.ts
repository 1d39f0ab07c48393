import { quantileSorted } from "simple-statistics";
import { binomialCdf, createRandom, requireLevel } from "../../inference/index.js";
import { type Estimate, type Undefined, undefinedBecause } from "../../results/index.js";
import { type Clusters, clustersOf, requirePairs } from "../../rows/index.js";
import type { PairedMeasurements } from "./limitsOfAgreement.js";

export interface NonparametricLimits {
  readonly kind: "nonparametric-limits";
  readonly n: number;
  readonly subjects: number;
  readonly level: number;
  readonly coverage: number;
  readonly direction: "test-minus-reference";
  /** Percentiles themselves (type 7), with or without an interval. */
  readonly percentiles: { readonly lower: number; readonly median: number; readonly upper: number };
  readonly lower: Estimate | Undefined;
  readonly median: Estimate | Undefined;
  readonly upper: Estimate | Undefined;
}

/**
 * Percentiles of test minus reference instead of bias ± SDs (Bland and Altman 1999, section 6):
 * for 0.95 the 2.5th and 97.5th (type 7, linear between neighbours).
 *
 * Intervals: order statistics with at least the stated level by the binomial distribution for
 * independent rows; children drawn with replacement (percentile) where subjects repeat. Too few
 * rows for a distribution-free interval (below 146 for 0.95 and 0.95) leave it undefined.
 *
 * @param data test and reference in one unit, dioptres as a rule
 * @throws when the columns differ in length, hold a value that is not finite, or have under 3 rows
 *
 * @example
 * nonparametricLimits({ test: [1, 2, 3, 4, 5], reference: [0, 0, 0, 0, 0] }, { coverage: 0.5 }).percentiles // => { lower: 2, median: 3, upper: 4 }
 */
export function nonparametricLimits(
  data: Omit<PairedMeasurements, "units">,
  options: {
    readonly level?: number;
    readonly coverage?: number;
    readonly replicates?: number;
    readonly seed?: number;
  } = {},
): NonparametricLimits {
  const caller = "nonparametricLimits";
  const { test, reference } = data;
  const { replicates = 1000, seed = 1 } = options;
  const level = requireLevel(caller, options.level ?? 0.95);
  const coverage = requireLevel(caller, options.coverage ?? 0.95);
  const n = requirePairs(caller, { test, reference }, 3);
  const clusters = clustersOf(caller, data.subjects, n);
  const differences = Float64Array.from({ length: n }, (_, row) => test[row] - reference[row]);
  const sorted = Array.from(differences).sort((a, b) => a - b);
  const shares = [(1 - coverage) / 2, 0.5, (1 + coverage) / 2];
  const estimates = clusters.repeated
    ? resampled(differences, clusters, shares, sorted, level, replicates, seed)
    : shares.map((share) => betweenOrderStatistics(sorted, share, level));
  const [lower, median, upper] = estimates;
  const [low, middle, high] = shares.map((share) => quantileSorted(sorted, share));
  return {
    kind: "nonparametric-limits",
    n,
    subjects: clusters.count,
    level,
    coverage,
    direction: "test-minus-reference",
    percentiles: { lower: low, median: middle, upper: high },
    lower,
    median,
    upper,
  };
}

/** A percentile (type 7) with its distribution-free interval, of values in ascending order. */
export function betweenOrderStatistics(
  sorted: readonly number[],
  share: number,
  level: number,
): Estimate | Undefined {
  const n = sorted.length;
  const tail = (1 - level) / 2;
  // P(x(l) <= quantile) = 1 - P(fewer than l below) for ranks counted from 1.
  let low = 0;
  while (low < n && binomialCdf(low, n, share) <= tail) low++;
  let high = n + 1;
  while (high > 1 && 1 - binomialCdf(high - 2, n, share) <= tail) high--;
  if (low < 1 || high > n) {
    return undefinedBecause(
      `${n} rows are too few for a distribution-free interval of this percentile`,
    );
  }
  return {
    kind: "estimate",
    value: quantileSorted(sorted as number[], share),
    low: sorted[low - 1],
    high: sorted[high - 1],
    level,
    method: "order-statistics",
  };
}

function resampled(
  differences: Float64Array,
  clusters: Clusters,
  shares: readonly number[],
  sorted: readonly number[],
  level: number,
  replicates: number,
  seed: number,
): Estimate[] {
  const members = Array.from({ length: clusters.count }, () => [] as number[]);
  differences.forEach((difference, row) => {
    members[clusters.ofRow[row]].push(difference);
  });
  const drawn = shares.map(() => [] as number[]);
  const random = createRandom(seed);
  for (let replicate = 0; replicate < replicates; replicate++) {
    random.restart(seed, replicate);
    const sample: number[] = [];
    for (let c = 0; c < clusters.count; c++) {
      sample.push(...members[random.integer(clusters.count)]);
    }
    const ordered = Array.from(Float64Array.from(sample).sort());
    for (const [index, share] of shares.entries())
      drawn[index].push(quantileSorted(ordered, share));
  }
  return shares.map((share, index) => {
    const values = Array.from(Float64Array.from(drawn[index]).sort());
    return {
      kind: "estimate",
      value: quantileSorted(sorted as number[], share),
      low: quantileSorted(values, (1 - level) / 2),
      high: quantileSorted(values, (1 + level) / 2),
      level,
      method: "cluster-bootstrap-percentile",
    };
  });
}
