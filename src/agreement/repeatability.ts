import { chiSquareQuantile, requireLevel, tQuantile } from "../inference/index.js";
import { type Estimate, type Undefined, undefinedBecause } from "../results/index.js";
import { type Clusters, clustersOf, requireNumbers, requireSameLength } from "../rows/index.js";
import { coefficientP } from "./limits/regressionLimits.js";
import { coefficientEstimate, linearFit } from "./regression/robustRegression.js";
import { unitsWithin } from "./unitsWithin.js";

export interface Repeatability {
  readonly kind: "repeatability";
  /** Readings. */
  readonly n: number;
  /** Eyes with at least two readings; the others say nothing about repeats. */
  readonly units: number;
  readonly unitsWithOneReading: number;
  readonly subjects: number;
  readonly level: number;
  readonly degreesOfFreedom: number;
  /** SD of repeated readings of one eye. */
  readonly withinSd: Estimate | Undefined;
  /** 1.96 sqrt(2) within SD: two readings of one eye differ by less in 95 of 100 pairs. */
  readonly coefficient: Estimate | Undefined;
  /** Slope of an eye's SD on its mean reading, with p: does repeat error grow with magnitude? */
  readonly magnitudeSlope: Estimate | Undefined;
  readonly magnitudeP: number | null;
}

/**
 * Repeatability: the within-subject SD (one-way analysis of variance over eyes) and the
 * repeatability coefficient 1.96 sqrt(2) SD = 2.77 SD (Bland and Altman 1996, 1999).
 *
 * `units` is the eye, read within its child where `subjects` are given: readings that share both are
 * repeats, so that a difference between two eyes is never called repeat error. Without `subjects`
 * units are independent and the interval is by chi-square; where a child has several units it is
 * cluster-robust on the logarithm, with Student's t over children.
 *
 * Undefined when no unit has two readings, or all repeats are equal.
 *
 * Values are in one unit, dioptres as a rule; SD and coefficient are in the same.
 *
 * @throws when columns differ in length or a value is not finite
 *
 * @example
 * repeatability({ values: [1, 2, 4, 4], units: ["a", "a", "b", "b"] }).withinSd.value // => 0.5
 */
export function repeatability(
  data: {
    readonly values: ArrayLike<number>;
    readonly units: ArrayLike<string | number>;
    readonly subjects?: ArrayLike<string | number>;
  },
  options: { readonly level?: number } = {},
): Repeatability {
  const caller = "repeatability";
  const level = requireLevel(caller, options.level ?? 0.95);
  const { values } = data;
  const n = requireSameLength(caller, { values, units: data.units });
  requireNumbers(caller, "values", values, n);
  const subjects = clustersOf(caller, data.subjects ?? data.units, n);
  const units = unitsWithin(caller, subjects, data.units, n);
  const table = unitTable(values, units, subjects);
  const df = table.reduce((sum, unit) => sum + unit.rows - 1, 0);
  const repeated = table.filter((unit) => unit.rows > 1);
  const squares = repeated.reduce((sum, unit) => sum + unit.squares, 0);
  const withinSd = withinSdEstimate(repeated, squares, df, level);
  const magnitude = magnitudeFit(repeated);
  return {
    kind: "repeatability",
    n,
    units: repeated.length,
    unitsWithOneReading: table.length - repeated.length,
    subjects: new Set(repeated.map((unit) => unit.subject)).size,
    level,
    degreesOfFreedom: df,
    withinSd,
    coefficient: withinSd.kind === "estimate" ? times(withinSd, 1.96 * Math.SQRT2) : withinSd,
    magnitudeSlope: magnitude
      ? coefficientEstimate(magnitude, 1, level)
      : undefinedBecause("too few units that repeat, or their means do not vary"),
    magnitudeP: magnitude ? coefficientP(magnitude, 1) : null,
  };
}

interface Unit {
  readonly subject: number;
  rows: number;
  mean: number;
  squares: number;
}

function unitTable(values: ArrayLike<number>, units: Clusters, subjects: Clusters): Unit[] {
  const table: Unit[] = [];
  for (let row = 0; row < values.length; row++) {
    const number = units.ofRow[row];
    table[number] ??= { subject: subjects.ofRow[row], rows: 0, mean: 0, squares: 0 };
    const unit = table[number];
    unit.rows++;
    const shift = values[row] - unit.mean;
    unit.mean += shift / unit.rows;
    unit.squares += shift * (values[row] - unit.mean);
  }
  return table;
}

function withinSdEstimate(
  units: readonly Unit[],
  squares: number,
  df: number,
  level: number,
): Estimate | Undefined {
  if (df === 0) return undefinedBecause("no unit has two readings");
  if (!(squares > 0)) return undefinedBecause("all repeated readings are equal");
  const variance = squares / df;
  const value = Math.sqrt(variance);
  const clusters = new Map<number, { squares: number; df: number }>();
  for (const unit of units) {
    const cluster = clusters.get(unit.subject) ?? { squares: 0, df: 0 };
    cluster.squares += unit.squares;
    cluster.df += unit.rows - 1;
    clusters.set(unit.subject, cluster);
  }
  if (clusters.size === units.length) {
    const at = (p: number) => value * Math.sqrt(df / chiSquareQuantile(p, df));
    const [low, high] = [at((1 + level) / 2), at((1 - level) / 2)];
    const se = value / Math.sqrt(2 * df);
    return { kind: "estimate", value, low, high, level, method: "chi-square", se };
  }
  if (clusters.size < 2) return undefinedBecause("one subject alone gives no interval");
  let scores = 0;
  for (const cluster of clusters.values()) {
    scores += (cluster.squares - cluster.df * variance) ** 2;
  }
  const share = clusters.size / (clusters.size - 1);
  // On the logarithm of the SD, half the relative error of the variance.
  const logSe = Math.sqrt(scores * share) / df / variance / 2;
  const reach = Math.exp(tQuantile((1 + level) / 2, clusters.size - 1) * logSe);
  return {
    kind: "estimate",
    value,
    low: value / reach,
    high: value * reach,
    level,
    method: "log-t-cluster-robust",
    se: value * logSe,
  };
}

function magnitudeFit(units: readonly Unit[]) {
  if (units.length < 3) return null;
  const sds = units.map((unit) => Math.sqrt(unit.squares / (unit.rows - 1)));
  const clusters = clustersOf(
    "repeatability",
    units.map((unit) => unit.subject),
    units.length,
  );
  const ones = new Float64Array(units.length).fill(1);
  return linearFit(sds, [ones, units.map((unit) => unit.mean)], clusters);
}

function times(estimate: Estimate, factor: number): Estimate {
  const se = estimate.se === undefined ? {} : { se: factor * estimate.se };
  return {
    ...estimate,
    value: factor * estimate.value,
    low: factor * estimate.low,
    high: factor * estimate.high,
    ...se,
  };
}
