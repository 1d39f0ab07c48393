import { median } from "simple-statistics";
import { jackknifeEstimate, normalQuantile, requireLevel } from "../../inference/index.js";
import {
  type Estimate,
  InputError,
  type Undefined,
  undefinedBecause,
} from "../../results/index.js";
import {
  type ChildColumns,
  childrenOf,
  clustersOf,
  type Labels,
  requirePairs,
  sitesOf,
  takeRows,
} from "../../rows/index.js";
import { percentileLimit } from "../limits/percentileLimits.js";
import { type LinearityTest, linearityTest } from "./linearityTest.js";
import { pairwiseSlopes } from "./pairwiseSlopes.js";

/** The line of Passing and Bablok between two measurements. */
export interface PassingBablok {
  readonly kind: "passing-bablok";
  readonly n: number;
  readonly level: number;
  /** Of the slope; the intercept names its own. */
  readonly method: "passing-bablok" | "site-jackknife";
  /** Pairs of rows with a slope that counts. */
  readonly slopes: number;
  /** Pairs left out because both rows are the same point (0/0). */
  readonly identicalPairs: number;
  /** Pairs left out because their slope is -1. */
  readonly slopesOfMinusOne: number;
  readonly slope: Estimate | Undefined;
  readonly intercept: Estimate | Undefined;
  readonly linearity: LinearityTest | Undefined;
  readonly notes: readonly string[];
}

/**
 * Regression of Passing and Bablok 1983: test = intercept + slope x reference, the slope a shifted
 * median of the slopes of all pairs of rows, which treats both alike and withstands outliers.
 *
 * Pairs at one point (0/0) and slopes of exactly -1 are left out and counted; rows with one
 * reference value have an infinite slope, whose sign does not matter because slopes are ordered by
 * direction from -45 degrees on. Interval by Kendall's variance without ties, wide on a 0.25 D
 * grid. Rows have to be independent: one eye a child. Undefined when no pair has a slope, or a
 * limit is vertical.
 *
 * The interval of the intercept is that of 1983, made from the slope's limits, only where all
 * references have one sign, as concentrations do. About 0 it leaves out the scatter of the line's
 * height (coverage .27 in place of .95, references centred at 0, n 60): where references lie on
 * both sides of 0 it is the order-statistic interval of that height at the median reference,
 * combined with the slope's by MOVER (own combination, Zou and Donner 2008 for MOVER).
 *
 * With `clusters` slope and intercept have the interval of a delete-one-site jackknife, which respects the
 * children within sites too: of 95 % intervals over 20 sites of 20 children those of the intercept held in
 * .91 of 500 simulated samples, those of the slope in .95 (`tests/coverage/grid`).
 *
 * @throws when the columns differ in length, hold a value not finite, have fewer than 4 rows, or
 * subjects repeat without sites above them
 *
 * @example
 * passingBablok({ test: [2, 1.2, 4.1, 3.5, 6.3, 3], reference: [1, 2, 3, 4, 5, 6] }).slope.value // => 1.05
 */
export function passingBablok(
  data: ChildColumns & {
    readonly test: ArrayLike<number>;
    readonly reference: ArrayLike<number>;
  },
  options: { readonly level?: number } = {},
): PassingBablok {
  const caller = "passingBablok";
  const { test, reference } = data;
  const level = requireLevel(caller, options.level ?? 0.95);
  const n = requirePairs(caller, { test, reference }, 4);
  const children = childrenOf(caller, data, n);
  const sites = sitesOf(caller, data, children);
  if (children.repeated && sites === undefined) {
    throw new InputError(
      `${caller} requires independent rows, got subjects or units that repeat; take one eye a child, or use demingRegression`,
    );
  }
  // Turned by 45 degrees, slopes of -1 have no slope and the others keep their order (Passing and
  // Bablok's shift by K), so that the shifted median is a plain one.
  const centre = { x: median(Array.from(reference)), y: median(Array.from(test)) };
  const turned = (sign: number) =>
    withoutDust(
      Float64Array.from(test, (y, row) => y - centre.y + sign * (reference[row] - centre.x)),
    );
  const [along, across] = [turned(1), turned(-1)];
  const pairs = pairwiseSlopes(along, across);
  const identicalPairs = pairsAlike(reference, test);
  const shape = {
    kind: "passing-bablok" as const,
    n,
    level,
    method: "passing-bablok" as const,
    slopes: pairs.count,
    identicalPairs,
    slopesOfMinusOne: (n * (n - 1)) / 2 - pairs.count - identicalPairs,
    notes: ["No subjects repeat: rows are taken as independent."],
  };
  if (pairs.count === 0) {
    const none = undefinedBecause("no two rows have a slope that counts");
    return { ...shape, slope: none, intercept: none, linearity: none };
  }
  const slopeOfRank = (rank: number) => {
    const { i, j } = pairs.ofRank(Math.max(1, Math.min(pairs.count, rank)));
    const run = reference[j] - reference[i];
    return run === 0 ? Number.POSITIVE_INFINITY : (test[j] - test[i]) / run;
  };
  const half = Math.floor(pairs.count / 2);
  const value =
    pairs.count % 2 === 1 ? slopeOfRank(half + 1) : (slopeOfRank(half) + slopeOfRank(half + 1)) / 2;
  const spread = normalQuantile((1 + level) / 2) * Math.sqrt((n * (n - 1) * (2 * n + 5)) / 18);
  const lowRank = Math.round((pairs.count - spread) / 2);
  const [low, high] = [slopeOfRank(lowRank), slopeOfRank(pairs.count - lowRank + 1)];
  if (![low, value, high].every(Number.isFinite) || !(low <= value && value <= high)) {
    const vertical = undefinedBecause("the slope or a limit of it is vertical");
    return { ...shape, slope: vertical, intercept: vertical, linearity: vertical };
  }
  const own: Estimate = { kind: "estimate", value, low, high, level, method: "passing-bablok" };
  const overSites = data.clusters && lineOverSites(data, data.clusters.site, level);
  return {
    ...shape,
    ...(overSites && {
      method: "site-jackknife" as const,
      notes: ["Intervals leave out one site after the other."],
    }),
    slope: overSites?.slope ?? own,
    intercept: overSites?.intercept ?? interceptOf(test, reference, own),
    linearity: linearityTest(reference, test, value, interceptAt(test, reference, value)),
  };
}

/** Slope and intercept with sites above children, each by the line without one site after the other. */
function lineOverSites(
  { test, reference }: { readonly test: ArrayLike<number>; readonly reference: ArrayLike<number> },
  site: Labels,
  level: number,
): Pick<PassingBablok, "slope" | "intercept"> {
  const lineOf = (rows: readonly number[]) => {
    if (rows.length < 4) return null;
    const part = { test: takeRows(test, rows), reference: takeRows(reference, rows) };
    const { slope, intercept } = passingBablok(part);
    return slope.kind === "undefined" || intercept.kind === "undefined"
      ? null
      : { slope: slope.value, intercept: intercept.value };
  };
  const rows = Array.from(test, (_, row) => row);
  const sites = clustersOf("passingBablok", site, rows.length, "clusters.site");
  const all = lineOf(rows);
  const lines = Array.from(sites.sizes, (_, one) =>
    lineOf(rows.filter((row) => sites.ofRow[row] !== one)),
  );
  const over = (part: "slope" | "intercept") =>
    all === null
      ? undefinedBecause("the line has no slope on all rows")
      : jackknifeEstimate({
          value: all[part],
          leftOut: lines.map((line) => line?.[part] ?? null),
          denominators: Array.from(sites.sizes),
          scale: "plain",
          level,
        });
  return { slope: over("slope"), intercept: over("intercept") };
}

function interceptAt(test: ArrayLike<number>, reference: ArrayLike<number>, slope: number): number {
  return median(Array.from(test, (y, row) => y - slope * reference[row]));
}

function interceptOf(
  test: ArrayLike<number>,
  reference: ArrayLike<number>,
  slope: Estimate,
): Estimate | Undefined {
  const { level } = slope;
  const value = interceptAt(test, reference, slope.value);
  const x = Float64Array.from(reference).sort();
  if (!(x[0] < 0 && x[x.length - 1] > 0)) {
    const ends = [slope.high, slope.low].map((end) => interceptAt(test, reference, end));
    const [low, high] = [Math.min(...ends), Math.max(...ends)];
    return { kind: "estimate", value, low, high, level, method: "passing-bablok" };
  }
  // The line's height at the middle of the references, carried to 0 by the slope.
  const middle = median(Array.from(x));
  const heights = Float64Array.from(test, (y, row) => y - slope.value * (reference[row] - middle));
  const sorted = heights.sort();
  const height = percentileLimit({ at: (rank) => sorted[rank - 1], n: sorted.length }, 0.5, level);
  if (height.kind !== "estimate") {
    return undefinedBecause("too few rows for an interval of the line's height");
  }
  const carried = [slope.low, slope.high].map((end) => -middle * (end - slope.value));
  return {
    kind: "estimate",
    value,
    low: value - Math.hypot(height.value - height.low, Math.min(...carried)),
    high: value + Math.hypot(height.high - height.value, Math.max(...carried)),
    level,
    method: "order-statistics-mover",
  };
}

/** Rounded far below any step of recording, so that decimal steps tie as they should. */
function withoutDust(values: Float64Array): Float64Array {
  const largest = values.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
  const grid = 2 ** (Math.ceil(Math.log2(largest || 1)) - 42);
  return values.map((value) => Math.round(value / grid) * grid);
}

/** Pairs of rows at one and the same point. */
function pairsAlike(x: ArrayLike<number>, y: ArrayLike<number>): number {
  const points = new Map<string, number>();
  let pairs = 0;
  for (let row = 0; row < x.length; row++) {
    const key = `${x[row]},${y[row]}`;
    const before = points.get(key) ?? 0;
    pairs += before;
    points.set(key, before + 1);
  }
  return pairs;
}
