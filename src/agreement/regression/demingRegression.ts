import { jackknifeEstimate, requireLevel, tEstimate } from "../../inference/index.js";
import {
  type Estimate,
  InputError,
  type Undefined,
  undefinedBecause,
} from "../../results/index.js";
import { averageOf, childrenOf, requirePairs, sitesOf, sumsOf } from "../../rows/index.js";
import type { PairedMeasurements } from "../limits/pairedMeasurements.js";

/** The line between two measurements that both have error. */
export interface DemingRegression {
  readonly kind: "deming-regression";
  readonly n: number;
  readonly subjects: number;
  readonly level: number;
  readonly errorRatio: number;
  readonly slope: Estimate | Undefined;
  readonly intercept: Estimate | Undefined;
}

/**
 * Deming regression of test on reference, both with error: test = intercept + slope x reference.
 *
 * `errorRatio` is the error variance of the test over that of the reference, from `repeatability` of
 * each; it is never taken as 1 in silence. Intervals by a jackknife (Linnet 1993) over rows, or over
 * children where subjects repeat, with Student's t on their number less 2; over sites with `clusters`. Undefined when test and
 * reference do not vary together.
 *
 * Test and reference are in one unit, dioptres as a rule, and so are the results.
 *
 * @throws when the columns differ in length, hold a value not finite, have fewer than 4 rows or
 * subjects, or the error ratio is missing or not positive
 *
 * @example
 * demingRegression({ test: [1, 3, 5, 7.5], reference: [1, 2, 3, 4] }, { errorRatio: 1 }).slope.value // => 2.1557
 */
export function demingRegression(
  data: PairedMeasurements,
  options: { readonly errorRatio: number; readonly level?: number },
): DemingRegression {
  const caller = "demingRegression";
  const { test, reference } = data;
  const errorRatio = options?.errorRatio;
  if (!(errorRatio > 0 && errorRatio < Number.POSITIVE_INFINITY)) {
    throw new InputError(
      `${caller} requires an errorRatio (error variance of test / of reference, from repeatability of each), got ${errorRatio}`,
    );
  }
  const level = requireLevel(caller, options.level ?? 0.95);
  const n = requirePairs(caller, { test, reference }, 4);
  const clusters = childrenOf(caller, data, n);
  const sites = sitesOf(caller, data, clusters);
  if (clusters.count < 4) {
    throw new InputError(`${caller} requires at least 4 subjects, got ${clusters.count}`);
  }
  // Sums from the middle of the data, for each cluster: n, x, y, xx, yy, xy.
  const middle = [reference, test].map((values) => averageOf(values));
  const each = sumsOf(sites ?? clusters, 6, (row) => {
    const [x, y] = [reference[row] - middle[0], test[row] - middle[1]];
    return [1, x, y, x * x, y * y, x * y];
  });
  const total = each[0].map((_, k) => each.reduce((sum, one) => sum + one[k], 0));
  const line = lineFrom(total, errorRatio);
  const left = each.map((sums) =>
    lineFrom(
      total.map((sum, index) => sum - sums[index]),
      errorRatio,
    ),
  );
  const shape = {
    kind: "deming-regression" as const,
    n,
    subjects: clusters.count,
    level,
    errorRatio,
  };
  if (line === null || left.includes(null)) {
    const missing = undefinedBecause("test and reference do not vary together");
    return { ...shape, slope: missing, intercept: missing };
  }
  const lines = left as Line[];
  const interceptOf = ({ slope, intercept }: Line) => intercept + middle[1] - slope * middle[0];
  const interval = (of: (line: Line) => number) =>
    sites
      ? jackknifeEstimate({
          value: of(line),
          leftOut: lines.map(of),
          denominators: each.map(([rows]) => rows),
          scale: "plain",
          level,
        })
      : jackknife(of(line), lines.map(of), level);
  return { ...shape, slope: interval(({ slope }) => slope), intercept: interval(interceptOf) };
}

interface Line {
  readonly slope: number;
  readonly intercept: number;
}

function lineFrom(sums: Float64Array, ratio: number): Line | null {
  const [n, x, y, xx, yy, xy] = sums;
  const sxx = xx - (x * x) / n;
  const syy = yy - (y * y) / n;
  const sxy = xy - (x * y) / n;
  if (!(Math.abs(sxy) > 1e-14 * (xx + yy))) return null;
  const difference = syy - ratio * sxx;
  const root = Math.hypot(difference, 2 * Math.sqrt(ratio) * sxy);
  // The form without cancellation is taken on each side.
  const slope =
    difference > 0 ? (difference + root) / (2 * sxy) : (2 * ratio * sxy) / (root - difference);
  return { slope, intercept: y / n - (slope * x) / n };
}

function jackknife(value: number, left: readonly number[], level: number): Estimate {
  const count = left.length;
  const mean = averageOf(left);
  const squares = left.reduce((sum, one) => sum + (one - mean) ** 2, 0);
  const se = Math.sqrt((squares * (count - 1)) / count);
  return tEstimate(value, se, { df: count - 2, level, method: "jackknife" });
}
