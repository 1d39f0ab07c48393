import { chiSquareQuantile, jackknifeEstimate, requireLevel } from "../inference/index.js";
import {
  type Estimate,
  type ForAudience,
  InputError,
  jointAudience,
  type Undefined,
  undefinedBecause,
} from "../results/index.js";
import {
  type ChildColumns,
  type Clusters,
  childrenOf,
  clustersOf,
  type Labels,
  requireNumbers,
  sitesOf,
  sumsOf,
} from "../rows/index.js";
import { coefficientEstimate, coefficientP, linearFit } from "./regression/robustRegression.js";
import { unitsWithin } from "./unitsWithin.js";

/** Error of repeated readings of one eye. */
export interface Repeatability extends ForAudience {
  readonly kind: "repeatability";
  /** Readings. */
  readonly n: number;
  /** Eyes with at least two readings; the others say nothing about repeats. */
  readonly units: number;
  readonly unitsWithOneReading: number;
  readonly subjects: number;
  readonly level: number;
  readonly df: number;
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
 * units are independent.
 *
 * Interval: jackknife over children (sites, with `clusters`) on the logarithm, Student's t with
 * K_eff - 1 degrees of freedom, K_eff = 1 / sum h², h a child's share of the sum of squares: children
 * differ in their SD, and the chi-square interval then covers .80 to .66, less with more children
 * (this one .91 to .96; own simulation, SDs lognormal with 0.5). `interval: "chi-square"` reproduces
 * print, for independent units that share one SD.
 *
 * Undefined when no unit has two readings, all repeats are equal, or K_eff is below 2.
 *
 * Values are in one unit, dioptres as a rule; SD and coefficient are in the same.
 *
 * @throws when columns differ in length or a value is not finite
 *
 * @example
 * repeatability({ values: [1, 2, 4, 5], units: ["a", "a", "b", "b"] }).withinSd.value // => 0.7071
 */
export function repeatability(
  data: ChildColumns & { readonly values: ArrayLike<number>; readonly units: Labels },
  options: { readonly level?: number; readonly interval?: "jackknife" | "chi-square" } = {},
): Repeatability {
  const caller = "repeatability";
  const level = requireLevel(caller, options.level ?? 0.95);
  const { values } = data;
  const n = values.length;
  if (data.units === undefined) throw new InputError(`${caller} requires units, got none`);
  requireNumbers(caller, "values", values, n);
  const subjects = childrenOf(caller, data, n);
  const sites = sitesOf(caller, data, subjects);
  const units = unitsWithin(caller, subjects, data.units, n);
  const table = unitTable(values, units, subjects, sites ?? subjects);
  const df = table.reduce((sum, unit) => sum + unit.rows - 1, 0);
  const repeated = table.filter((unit) => unit.rows > 1);
  const squares = repeated.reduce((sum, unit) => sum + unit.squares, 0);
  const withinSd = withinSdEstimate(repeated, squares, df, level, options.interval ?? "jackknife");
  const magnitude = magnitudeFit(repeated);
  return {
    kind: "repeatability",
    ...jointAudience(data),
    n,
    units: repeated.length,
    unitsWithOneReading: table.length - repeated.length,
    subjects: new Set(repeated.map((unit) => unit.subject)).size,
    level,
    df,
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
  /** Site, or child where there are no sites. */
  readonly cluster: number;
  rows: number;
  mean: number;
  squares: number;
}

function unitTable(
  values: ArrayLike<number>,
  units: Clusters,
  subjects: Clusters,
  clusters: Clusters,
): Unit[] {
  const table: Unit[] = [];
  for (let row = 0; row < values.length; row++) {
    const number = units.ofRow[row];
    table[number] ??= {
      subject: subjects.ofRow[row],
      cluster: clusters.ofRow[row],
      rows: 0,
      mean: 0,
      squares: 0,
    };
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
  interval: "jackknife" | "chi-square",
): Estimate | Undefined {
  if (df === 0) return undefinedBecause("no unit has two readings");
  if (!(squares > 0)) return undefinedBecause("all repeated readings are equal");
  if (interval === "chi-square") {
    if (new Set(units.map((unit) => unit.cluster)).size < units.length) {
      throw new InputError(
        'repeatability requires independent units for interval "chi-square", got several units of one child or site; leave the interval out',
      );
    }
    const value = Math.sqrt(squares / df);
    const at = (p: number) => value * Math.sqrt(df / chiSquareQuantile(p, df));
    const [low, high] = [at((1 + level) / 2), at((1 - level) / 2)];
    const se = value / Math.sqrt(2 * df);
    return { kind: "estimate", value, low, high, level, method: "chi-square", se };
  }
  const clusters = clustersOf(
    "repeatability",
    units.map((unit) => unit.cluster),
    units.length,
  );
  const sums = sumsOf(clusters, 2, (row) => [units[row].squares, units[row].rows - 1]);
  // A child whose repeats are all equal contributes its degrees of freedom.
  const found = jackknifeEstimate({
    value: Math.sqrt(squares / df),
    leftOut: sums.map(([own, freedom]) =>
      df > freedom && squares > own ? Math.sqrt((squares - own) / (df - freedom)) : null,
    ),
    denominators: sums.map(([own]) => own),
    scale: "log",
    level,
  });
  return found.kind === "undefined"
    ? undefinedBecause(
        'fewer than 2 children (or sites) carry the repeat error: no interval; "chi-square" gives one if all eyes share one SD',
      )
    : { ...found, method: "log-jackknife" };
}

function magnitudeFit(units: readonly Unit[]) {
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
