import { jackknifeSums, normalQuantile, requireLevel, tQuantile } from "../inference/index.js";
import { type Estimate, InputError, type Undefined, undefinedBecause } from "../results/index.js";
import { type Clusters, childrenOf, requirePairs, sitesOf } from "../rows/index.js";
import type { PairedMeasurements } from "./limits/pairedMeasurements.js";

/** Concordance correlation of two measurements of the same rows. */
export interface ConcordanceCorrelation {
  readonly kind: "concordance-correlation";
  readonly n: number;
  readonly subjects: number;
  readonly level: number;
  readonly estimate: Estimate | Undefined;
  /** Pearson's correlation: closeness to some straight line. */
  readonly precision: number | null;
  /** Bias correction: closeness of that line to equality; concordance = precision x accuracy. */
  readonly accuracy: number | null;
}

/**
 * Concordance correlation coefficient (Lin 1989, variance as corrected 2000), moments with divisor n.
 *
 * It depends on the spread of the children as much as on the instrument: limits of agreement come
 * first. The interval is on Fisher's z scale, or plain with `interval: "asymptotic"`; where subjects
 * repeat it is a jackknife over children (over sites, with `clusters`) on the z scale, with Student's t. Undefined when test or
 * reference do not vary.
 *
 * Test and reference are in one unit, dioptres as a rule; the coefficient has none.
 *
 * @throws when the columns differ in length, hold a value that is not finite, or have under 4 rows
 *
 * @example
 * concordanceCorrelation({ test: [1, 2, 3, 5], reference: [1, 2, 4, 4] }).estimate.value // => 0.871
 */
export function concordanceCorrelation(
  data: PairedMeasurements,
  options: { readonly level?: number; readonly interval?: "z" | "asymptotic" } = {},
): ConcordanceCorrelation {
  const caller = "concordanceCorrelation";
  const { interval = "z" } = options;
  const level = requireLevel(caller, options.level ?? 0.95);
  const { test, reference } = data;
  const n = requirePairs(caller, { test, reference }, 4);
  const clusters = childrenOf(caller, data, n);
  const sites = sitesOf(caller, data, clusters);
  if (clusters.count < 4) {
    throw new InputError(`${caller} requires at least 4 subjects, got ${clusters.count}`);
  }
  const sums = clusterMoments(test, reference, clusters);
  const all = concordanceFrom(sums.total);
  const shape = { kind: "concordance-correlation" as const, n, subjects: clusters.count, level };
  if (all === null) {
    const estimate = undefinedBecause("test or reference does not vary");
    return { ...shape, estimate, precision: null, accuracy: null };
  }
  const { concordance, precision, accuracy, shift } = all;
  const base = { kind: "estimate" as const, value: concordance, level };
  let estimate: Estimate | Undefined;
  if (Math.abs(concordance) === 1) {
    estimate = { ...base, low: concordance, high: concordance, method: "degenerate" };
  } else if (sites) {
    estimate = jackknifeSums(
      clusterMoments(test, reference, sites).each,
      (total) => concordanceFrom(total as Sums)?.concordance ?? null,
      { denominator: ([rows]) => rows, scale: "fisher-z", level },
    );
  } else if (clusters.repeated) {
    estimate = jackknifed(sums, concordance, level);
  } else if (precision === 0) {
    estimate = undefinedBecause("test and reference are not correlated at all");
  } else {
    // Lin 1989 as corrected 2000, with n - 2.
    const c2 = concordance * concordance;
    const r2 = precision * precision;
    const variance =
      (((1 - r2) * c2 * (1 - c2)) / r2 +
        (2 * c2 * concordance * (1 - concordance) * shift) / precision -
        (c2 * c2 * shift * shift) / (2 * r2)) /
      (n - 2);
    const se = Math.sqrt(Math.max(0, variance));
    const z = normalQuantile((1 + level) / 2);
    estimate =
      interval === "asymptotic"
        ? {
            ...base,
            low: concordance - z * se,
            high: concordance + z * se,
            method: "asymptotic",
            se,
          }
        : { ...base, ...onZScale(concordance, (z * se) / (1 - c2)), method: "fisher-z", se };
  }
  return { ...shape, estimate, precision, accuracy };
}

/** n, sums of x, y, x², y², xy; x is the test, both from an origin. */
type Sums = [number, number, number, number, number, number];

function clusterMoments(
  test: ArrayLike<number>,
  reference: ArrayLike<number>,
  clusters: Clusters,
): { total: Sums; each: Sums[] } {
  const n = test.length;
  let origin = 0;
  for (let row = 0; row < n; row++) origin += (test[row] + reference[row]) / (2 * n);
  const each = Array.from({ length: clusters.count }, (): Sums => [0, 0, 0, 0, 0, 0]);
  const total: Sums = [0, 0, 0, 0, 0, 0];
  for (let row = 0; row < n; row++) {
    const [x, y] = [test[row] - origin, reference[row] - origin];
    [1, x, y, x * x, y * y, x * y].forEach((value, index) => {
      each[clusters.ofRow[row]][index] += value;
      total[index] += value;
    });
  }
  return { total, each };
}

function concordanceFrom([n, x, y, xx, yy, xy]: Sums) {
  const varianceX = xx / n - (x / n) ** 2;
  const varianceY = yy / n - (y / n) ** 2;
  const covariance = xy / n - (x / n) * (y / n);
  const tiny = 1e-14 * (xx / n + yy / n);
  if (!(varianceX > tiny && varianceY > tiny)) return null;
  const gap = x / n - y / n;
  const concordance = (2 * covariance) / (varianceX + varianceY + gap * gap);
  const spread = Math.sqrt(varianceX * varianceY);
  const precision = covariance / spread;
  return {
    concordance,
    precision,
    accuracy: (2 * spread) / (varianceX + varianceY + gap * gap),
    /** Squared location shift, in units of the geometric mean variance. */
    shift: (gap * gap) / spread,
  };
}

function jackknifed(
  { total, each }: { total: Sums; each: Sums[] },
  value: number,
  level: number,
): Estimate | Undefined {
  const count = each.length;
  const left = each.map((cluster) =>
    concordanceFrom(total.map((sum, index) => sum - cluster[index]) as Sums),
  );
  const values = left.map((one) => (one === null ? Number.NaN : Math.atanh(one.concordance)));
  if (values.some((z) => !Number.isFinite(z))) {
    return undefinedBecause("without one of the subjects test or reference does not vary");
  }
  const mean = values.reduce((sum, z) => sum + z, 0) / count;
  const squares = values.reduce((sum, z) => sum + (z - mean) ** 2, 0);
  const se = Math.sqrt((squares * (count - 1)) / count);
  const half = tQuantile((1 + level) / 2, count - 1) * se;
  return {
    kind: "estimate",
    value,
    ...onZScale(value, half),
    level,
    method: "fisher-z-jackknife-clusters",
    se: se * (1 - value * value),
  };
}

function onZScale(value: number, half: number): { low: number; high: number } {
  const z = Math.atanh(value);
  return { low: Math.tanh(z - half), high: Math.tanh(z + half) };
}
