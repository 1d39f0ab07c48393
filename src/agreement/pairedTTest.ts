import { requireLevel, tCdf, tQuantile } from "../inference/index.js";
import { type Estimate, type Undefined, undefinedBecause } from "../results/index.js";
import { clustersOf, requirePairs } from "../rows/index.js";
import type { PairedMeasurements } from "./limits/limitsOfAgreement.js";

export interface PairedTTest {
  readonly kind: "paired-t-test";
  readonly n: number;
  readonly subjects: number;
  readonly level: number;
  readonly difference: Estimate;
  readonly t: number | Undefined;
  readonly df: number;
  readonly p: number | Undefined;
}

/**
 * Paired t-test that the mean of test minus reference is 0. A large p is no evidence of agreement:
 * read the limits. Where subjects repeat the error is cluster-robust and df is children - 1.
 *
 * Test and reference are in one unit, dioptres as a rule, and so are the results.
 *
 * @throws when the columns differ in length, hold a value not finite, or have fewer than 2 rows
 *
 * @example
 * pairedTTest({ test: [2, 4, 6, 9], reference: [1, 4, 4, 6] }).t // => 2.3238
 */
export function pairedTTest(
  data: Omit<PairedMeasurements, "units">,
  options: { readonly level?: number } = {},
): PairedTTest {
  const caller = "pairedTTest";
  const { test, reference } = data;
  const level = requireLevel(caller, options.level ?? 0.95);
  const n = requirePairs(caller, { test, reference }, 2);
  const clusters = clustersOf(caller, data.subjects, n);
  let mean = 0;
  for (let row = 0; row < n; row++) mean += (test[row] - reference[row]) / n;
  const scores = new Float64Array(clusters.count);
  for (let row = 0; row < n; row++) {
    scores[clusters.ofRow[row]] += test[row] - reference[row] - mean;
  }
  const squares = scores.reduce((sum, score) => sum + score * score, 0);
  const df = clusters.count - 1;
  const se = Math.sqrt((squares / n / n) * (clusters.count / df));
  const half = tQuantile((1 + level) / 2, df) * se;
  const equal = undefinedBecause("all differences are equal");
  const t = se > 0 ? mean / se : equal;
  return {
    kind: "paired-t-test",
    n,
    subjects: clusters.count,
    level,
    difference: {
      kind: "estimate",
      value: mean,
      low: mean - half,
      high: mean + half,
      level,
      method: clusters.repeated ? "t-clusters" : "t",
      se,
    },
    t,
    df,
    p: typeof t === "number" ? Math.min(1, 2 * tCdf(-Math.abs(t), df)) : equal,
  };
}
