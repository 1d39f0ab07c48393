import { quantileSorted, sampleStandardDeviation } from "simple-statistics";
import {
  type Estimate,
  InputError,
  type Undefined,
  undefinedBecause,
} from "../../results/index.js";
import {
  type Clusters,
  clustersOf,
  requireNoSites,
  requireWhole,
  rowsByCluster,
} from "../../rows/index.js";
import { normalCdf, normalQuantile } from "../distributions.js";
import { createRandom } from "../random.js";
import { requireLevel } from "../requireLevel.js";

/** An estimate with how it was resampled. */
export interface BootstrapEstimate extends Estimate {
  /** Number of rows. */
  readonly n: number;
  /** Number of children, where subjects were given. */
  readonly subjects?: number;
  readonly replicates: number;
  readonly seed: number;
  /** Replicates in which the statistic was not a finite number; the interval is of the others. */
  readonly failed: number;
}

export interface BootstrapOptions<Row> {
  /** One entry a row: numbers, objects, or row numbers of columns kept elsewhere. */
  readonly rows: ArrayLike<Row>;
  readonly replicates: number;
  readonly seed: number;
  /** Whose row it is; children are then drawn, with all their rows. */
  readonly subjects?: ArrayLike<string | number>;
  /** Rows (children) are drawn within each stratum, as many as it has. */
  readonly strata?: ArrayLike<string | number>;
  /** "percentile" by default. */
  readonly interval?: "percentile" | "basic" | "bca";
  /** 0.95 by default. */
  readonly level?: number;
}

/** Above this share of failed replicates there is no interval. */
const mostFailed = 0.05;

/**
 * Bootstrap interval of any statistic of rows (Efron 1979).
 *
 * Rows are drawn with replacement; with `subjects`, children with all their rows (cluster
 * bootstrap); without it the rows are taken as independent. Each replicate draws from a stream of
 * its own, so a result depends on the seed and the replicate's number alone. "percentile" takes
 * quantiles (type 7) of the replicates, "basic" reflects them at the estimate, "bca" corrects bias
 * and acceleration (Efron 1987) by a jackknife over rows or children.
 *
 * Undefined when the statistic is not finite on the data, or on more than 5 % of the replicates.
 *
 * @param statistic a pure function of an array of rows; it may get a row several times
 * @throws on no rows, lengths that differ, a child in two strata, or replicates below 2
 *
 * @example
 * bootstrap((rows) => Math.max(...rows), { rows: [1, 2, 3], replicates: 200, seed: 1 }).value // => 3
 */
export function bootstrap<Row>(
  statistic: (rows: Row[]) => number,
  options: BootstrapOptions<Row>,
): BootstrapEstimate | Undefined {
  const { replicates, seed, interval = "percentile", level = 0.95 } = requireOptions(options);
  const groups = groupRows(options);
  const strata = stratify(options, groups);
  const all = Array.from(options.rows);
  const value = statistic(all.slice());
  if (!Number.isFinite(value)) {
    return undefinedBecause("the statistic is not a finite number on these rows");
  }
  const found: number[] = [];
  const random = createRandom(seed);
  for (let replicate = 0; replicate < replicates; replicate++) {
    random.restart(seed, replicate);
    const sample: Row[] = [];
    for (const members of strata) {
      for (let draw = 0; draw < members.length; draw++) {
        for (const row of groups[members[random.integer(members.length)]]) sample.push(all[row]);
      }
    }
    const result = statistic(sample);
    if (Number.isFinite(result)) found.push(result);
  }
  const failed = replicates - found.length;
  if (failed > mostFailed * replicates) {
    return undefinedBecause(
      `the statistic was not a finite number in ${failed} of ${replicates} replicates`,
    );
  }
  found.sort((a, b) => a - b);
  const tails = tailsOf(interval, level, () => bcaShares(statistic, all, groups, value, found));
  if (tails === null) {
    return undefinedBecause("the bias-corrected interval needs a statistic that varies");
  }
  const [low, high] = tails.map((tail) => quantileSorted(found, tail));
  const se = sampleStandardDeviation(found);
  if (!Number.isFinite(se)) return undefinedBecause("the statistic is too large a number");
  return {
    kind: "estimate",
    value,
    low: interval === "basic" ? 2 * value - high : low,
    high: interval === "basic" ? 2 * value - low : high,
    level,
    method: `bootstrap-${interval}`,
    se,
    n: all.length,
    ...(options.subjects === undefined ? {} : { subjects: groups.length }),
    replicates,
    seed,
    failed,
  };
}

function requireOptions<Row>(options: BootstrapOptions<Row>): BootstrapOptions<Row> {
  requireNoSites(
    "bootstrap",
    options,
    "use siteJackknife: a bootstrap of few sites covers too little",
  );
  const { rows, replicates, interval = "percentile", level = 0.95 } = options;
  if (!(rows?.length > 0)) throw new InputError("bootstrap requires at least 1 row, got none");
  requireWhole("bootstrap", "replicates", replicates, 2);
  if (!["percentile", "basic", "bca"].includes(interval)) {
    throw new InputError(
      `bootstrap requires interval: "percentile", "basic" or "bca", got ${JSON.stringify(interval)}`,
    );
  }
  requireLevel("bootstrap", level);
  for (const name of ["subjects", "strata"] as const) {
    const column = options[name];
    if (column !== undefined && column.length !== rows.length) {
      throw new InputError(
        `bootstrap requires columns of one length, got ${column.length} ${name} for ${rows.length} rows`,
      );
    }
  }
  return options;
}

/** Row numbers of each child, or of each row by itself. */
function groupRows<Row>({ rows, subjects }: BootstrapOptions<Row>): Int32Array[] {
  return listsOf(clustersOf("bootstrap", subjects, rows.length));
}

/** Group numbers by stratum. */
function stratify<Row>({ strata }: BootstrapOptions<Row>, groups: Int32Array[]): Int32Array[] {
  if (strata === undefined) return [Int32Array.from(groups, (_, group) => group)];
  const { ofRow } = clustersOf("bootstrap", strata, strata.length, "strata");
  const stratumOfGroup = groups.map((rows) => {
    const stratum = ofRow[rows[0]];
    if (rows.some((row) => ofRow[row] !== stratum)) {
      throw new InputError("bootstrap requires each child in one stratum, got one in several");
    }
    return stratum;
  });
  return listsOf(clustersOf("bootstrap", stratumOfGroup, groups.length, "strata"));
}

/** The rows of each cluster. */
function listsOf(clusters: Clusters): Int32Array[] {
  const { start, rows } = rowsByCluster(clusters);
  return Array.from({ length: clusters.count }, (_, at) => rows.subarray(start[at], start[at + 1]));
}

function tailsOf(
  interval: "percentile" | "basic" | "bca",
  level: number,
  bca: () => { bias: number; acceleration: number } | null,
): readonly [number, number] | null {
  const tails = [(1 - level) / 2, (1 + level) / 2] as const;
  if (interval !== "bca") return tails;
  const shares = bca();
  if (shares === null) return null;
  const { bias, acceleration } = shares;
  const moved = (tail: number) => {
    const shifted = bias + normalQuantile(tail);
    const room = 1 - acceleration * shifted;
    // beyond its pole the correction points to the very end of the replicates
    if (room <= 0) return shifted > 0 ? 1 : 0;
    return normalCdf(bias + shifted / room);
  };
  return [moved(tails[0]), moved(tails[1])];
}

/** Bias correction (ties count one half) and acceleration (Efron 1987). */
function bcaShares<Row>(
  statistic: (rows: Row[]) => number,
  all: Row[],
  groups: Int32Array[],
  value: number,
  sorted: number[],
): { bias: number; acceleration: number } | null {
  const below = sorted.reduce((sum, x) => sum + (x < value ? 1 : x === value ? 0.5 : 0), 0);
  const bias = normalQuantile(below / sorted.length);
  const left = groups.map((group) => {
    const out = new Set(group);
    return statistic(all.filter((_, row) => !out.has(row)));
  });
  const mean = left.reduce((sum, x) => sum + x, 0) / left.length;
  const squares = left.reduce((sum, x) => sum + (mean - x) ** 2, 0);
  const cubes = left.reduce((sum, x) => sum + (mean - x) ** 3, 0);
  const acceleration = cubes / (6 * squares ** 1.5);
  return Number.isFinite(bias) && Number.isFinite(acceleration) ? { bias, acceleration } : null;
}
