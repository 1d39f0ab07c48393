import { requireLevel } from "../../inference/index.js";
import type { Undefined } from "../../results/index.js";
import { childrenOf, requirePairs, sitesOf } from "../../rows/index.js";
import { quantileOfRanks, rankedDifferences } from "./orderedDifferences.js";
import type { PairedMeasurements } from "./pairedMeasurements.js";
import { type PercentileLimit, percentileLimit } from "./percentileLimits.js";

/** Limits of agreement as percentiles of the differences. */
export interface NonparametricLimits {
  readonly kind: "nonparametric-limits";
  readonly n: number;
  readonly subjects: number;
  readonly sites?: number;
  readonly level: number;
  readonly coverage: number;
  readonly direction: "test-minus-reference";
  /** Percentiles themselves (type 7), with or without an interval. */
  readonly percentiles: { readonly lower: number; readonly median: number; readonly upper: number };
  readonly lower: PercentileLimit | Undefined;
  readonly median: PercentileLimit | Undefined;
  readonly upper: PercentileLimit | Undefined;
}

/**
 * Percentiles of test minus reference instead of bias ± SDs (Bland and Altman 1999, section 6):
 * for 0.95 the 2.5th and 97.5th (type 7, linear between neighbours).
 *
 * Intervals: order statistics on the effective number of rows, which is smaller where children (or
 * sites) repeat. For 0.95 and 0.95: 146 effective rows and more give 95 %, 103 to 145 the level that
 * is printed (.90 to .95), fewer an interval without its outer end ("one-sided").
 *
 * @param data test and reference in one unit, dioptres as a rule
 * @throws when the columns differ in length, hold a value that is not finite, or have under 3 rows
 *
 * @example
 * nonparametricLimits({ test: [1, 2, 3, 4, 5], reference: [0, 0, 0, 0, 0] }, { coverage: 0.5 }).percentiles // => { lower: 2, median: 3, upper: 4 }
 */
export function nonparametricLimits(
  data: PairedMeasurements,
  options: { readonly level?: number; readonly coverage?: number } = {},
): NonparametricLimits {
  const caller = "nonparametricLimits";
  const { test, reference } = data;
  const level = requireLevel(caller, options.level ?? 0.95);
  const coverage = requireLevel(caller, options.coverage ?? 0.95);
  const n = requirePairs(caller, { test, reference }, 3);
  const children = childrenOf(caller, data, n);
  const sites = sitesOf(caller, data, children);
  const at = rankedDifferences(data);
  const ordered = {
    at,
    n,
    clusters: sites ?? children,
    differenceOf: (row: number) => test[row] - reference[row],
    sites: sites !== undefined,
  };
  const shares = [(1 - coverage) / 2, 0.5, (1 + coverage) / 2];
  const [lower, median, upper] = shares.map((share) => percentileLimit(ordered, share, level));
  const [low, middle, high] = shares.map((share) => quantileOfRanks(at, n, share));
  return {
    kind: "nonparametric-limits",
    n,
    subjects: children.count,
    ...(sites ? { sites: sites.count } : {}),
    level,
    coverage,
    direction: "test-minus-reference",
    percentiles: { lower: low, median: middle, upper: high },
    lower,
    median,
    upper,
  };
}
