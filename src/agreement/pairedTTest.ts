import {
  effectiveSites,
  jackknifeSums,
  requireLevel,
  tEstimate,
  twoSidedT,
} from "../inference/index.js";
import { type Estimate, type Undefined, undefinedBecause } from "../results/index.js";
import { childrenOf, requirePairs, sitesOf, sumsOf } from "../rows/index.js";
import type { PairedMeasurements } from "./limits/pairedMeasurements.js";

/** Student's test that the mean difference is 0. */
export interface PairedTTest {
  readonly kind: "paired-t-test";
  readonly n: number;
  readonly subjects: number;
  readonly sites?: number;
  readonly level: number;
  readonly difference: Estimate | Undefined;
  readonly t: number | Undefined;
  /** Children less 1, or effective sites less 1; null with one child. */
  readonly df: number | null;
  readonly p: number | Undefined;
}

/**
 * Paired t-test that the mean of test minus reference is 0. A large p is no evidence of agreement:
 * read the limits. Where subjects repeat the error is cluster-robust and df is children - 1; where only units are
 * given, they are the clusters. With `clusters` the error is a jackknife over sites and df follows
 * from their effective number. Undefined with one child.
 *
 * Test and reference are in one unit, dioptres as a rule, and so are the results.
 *
 * @throws when the columns differ in length, hold a value not finite, or have fewer than 2 rows
 *
 * @example
 * pairedTTest({ test: [2, 4, 6, 9], reference: [1, 4, 4, 6] }).t // => 2.3238
 */
export function pairedTTest(
  data: PairedMeasurements,
  options: { readonly level?: number } = {},
): PairedTTest {
  const caller = "pairedTTest";
  const { test, reference } = data;
  const level = requireLevel(caller, options.level ?? 0.95);
  const n = requirePairs(caller, { test, reference }, 2);
  const clusters = childrenOf(caller, data, n);
  const sites = sitesOf(caller, data, clusters);
  let mean = 0;
  for (let row = 0; row < n; row++) mean += (test[row] - reference[row]) / n;
  const shape = {
    kind: "paired-t-test" as const,
    n,
    subjects: clusters.count,
    ...(sites ? { sites: sites.count } : {}),
    level,
  };
  const sums = sumsOf(sites ?? clusters, 2, (row) => [1, test[row] - reference[row] - mean]);
  const difference = sites
    ? bySites(sums, mean, level)
    : byChildren(sums, mean, level, clusters.repeated);
  if (difference.kind === "undefined") {
    return { ...shape, difference, t: difference, df: null, p: difference };
  }
  const df = sites ? effectiveSites(sums.map(([rows]) => rows)) - 1 : clusters.count - 1;
  const se = difference.se ?? 0;
  const equal = undefinedBecause("all differences are equal");
  const t = se > 0 ? mean / se : equal;
  return {
    ...shape,
    difference,
    t,
    df,
    p: typeof t === "number" ? twoSidedT(t, df) : equal,
  };
}

/** Cluster-robust error of the mean, from each child's rows and departures from it. */
function byChildren(
  sums: readonly Float64Array[],
  value: number,
  level: number,
  repeated: boolean,
): Estimate | Undefined {
  const df = sums.length - 1;
  if (df < 1) return undefinedBecause("rows of one child: nothing is known of their variance");
  const n = sums.reduce((total, [rows]) => total + rows, 0);
  const squares = sums.reduce((total, [, score]) => total + score * score, 0);
  const se = Math.sqrt((squares / n / n) * (sums.length / df));
  return tEstimate(value, se, { df, level, method: repeated ? "t-clusters" : "t" });
}

function bySites(
  sums: readonly Float64Array[],
  value: number,
  level: number,
): Estimate | Undefined {
  return jackknifeSums(sums, ([n, departure]) => (n > 0 ? value + departure / n : null), {
    denominator: ([n]) => n,
    scale: "plain",
    level,
    value,
  });
}
