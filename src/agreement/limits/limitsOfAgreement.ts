import { normalCdf, requireLevel } from "../../inference/index.js";
import { type Estimate, InputError, type Undefined } from "../../results/index.js";
import { type Clusters, clustersOf, requirePairs } from "../../rows/index.js";
import { unitsWithin } from "../unitsWithin.js";
import { clusterSums } from "./clusterSums.js";
import { differenceShape } from "./differenceShape.js";
import { bootstrapLimits } from "./limitBootstrap.js";
import {
  approximateLimits,
  exactLimits,
  type LimitEstimates,
  moverLimits,
} from "./limitIntervals.js";
import { clusteredModel, independentModel, type VarianceComponents } from "./limitModel.js";
import { limitNotes } from "./limitNotes.js";
import {
  type LimitDesign,
  type LimitInterval,
  requireInterval,
  requireMultiplier,
} from "./limitOptions.js";
import { type NormalityTest, normalityTest } from "./normalityTest.js";
import { type OutsideLimits, outsideLimits } from "./outsideLimits.js";
import { pairMoments } from "./pairMoments.js";
import { type Trend, trendSlope } from "./trendSlope.js";

/** Paired measurements; a difference is always test minus reference. */
export interface PairedMeasurements {
  readonly test: ArrayLike<number>;
  readonly reference: ArrayLike<number>;
  /** The child of each row. Left out, rows are taken as independent. */
  readonly subjects?: ArrayLike<string | number>;
  /** The eye of each row, read within its child: rows that share both are repeats. */
  readonly units?: ArrayLike<string | number>;
}

export interface LimitsOptions {
  /** Level of every interval, 0.95 by default. */
  readonly level?: number;
  /** Share of differences between the limits, 0.95 by default. */
  readonly coverage?: number;
  /** SDs from the bias to a limit, instead of `coverage`: 2 for papers that use 2 SD. */
  readonly multiplier?: number;
  readonly interval?: LimitInterval;
  /** Intervals for each limit (default), or tolerance factors for the share between the pair (exact only). */
  readonly limits?: "each" | "pair";
  /** What the slope of the differences is taken on; the mean of both by default. */
  readonly trend?: Trend;
  /** Limits for the mean of so many repeated test readings, 1 by default. */
  readonly readings?: number;
  /** Skewness, excess kurtosis and a test of normality; `"skip"` for millions of rows. */
  readonly normality?: "check" | "skip";
  readonly replicates?: number;
  readonly seed?: number;
}

export interface LimitsOfAgreement extends LimitEstimates {
  readonly kind: "limits-of-agreement";
  /** Rows. */
  readonly n: number;
  /** Children, or rows where no subjects are given. */
  readonly subjects: number;
  /** Eyes, or rows where units do not repeat. */
  readonly units: number;
  readonly direction: "test-minus-reference";
  readonly level: number;
  /** Share of normal differences between the limits. */
  readonly coverage: number;
  readonly multiplier: number;
  readonly interval: LimitInterval;
  readonly limits: "each" | "pair";
  readonly design: LimitDesign;
  /** Test readings that one limit is for. */
  readonly readings: number;
  readonly components: VarianceComponents;
  readonly slope: Estimate | Undefined;
  readonly trend: Trend;
  /** Rows below the lower and above the upper limit. */
  readonly outside: OutsideLimits;
  /** Of independent rows, 20 or more (D'Agostino and Pearson). */
  readonly normality?: NormalityTest;
  readonly skewness?: number;
  readonly excessKurtosis?: number;
  /** The cluster bootstrap, beside other intervals where |excess kurtosis| > 1 and subjects repeat. */
  readonly bootstrap?: LimitEstimates;
  /** What a reader has to know. */
  readonly notes: readonly string[];
}

/**
 * Limits of agreement: bias (mean of test minus reference) and the bias ± multiplier SD between
 * which the stated share of normal differences lies (Bland and Altman 1986, 1999, 2007).
 *
 * Without `subjects` it assumes independent rows. Intervals: `"exact"` (noncentral t, Carkeet 2015;
 * default for independent rows), `"mover"` (Zou 2013; default when subjects repeat),
 * `"bootstrap"` (children drawn with replacement), `"approximate"` (1986, 1999). Clustering hardly
 * moves the limits themselves, only their intervals. Where examination depended on the reading these
 * limits describe the examined only: see `weightedLimits`.
 *
 * Test and reference are in one unit, dioptres as a rule, and so are the results.
 *
 * @throws when the columns differ in length or hold a value that is not finite, there are fewer
 * than 3 rows or children, or `"exact"` is asked for although subjects or units repeat
 *
 * @example
 * limitsOfAgreement({ test: [1, 2, 4, 5], reference: [1, 1, 4, 4] }).bias.value // => 0.5
 */
export function limitsOfAgreement(
  data: PairedMeasurements,
  options: LimitsOptions = {},
): LimitsOfAgreement {
  const caller = "limitsOfAgreement";
  const { test, reference } = data;
  const { limits = "each", trend = "mean", readings = 1, normality = "check" } = options;
  const { replicates = 2000, seed = 1 } = options;
  const n = requirePairs(caller, { test, reference }, 3);
  const level = requireLevel(caller, options.level ?? 0.95);
  const multiplier = requireMultiplier(options);
  // A little nearer than the limits, which end elsewhere than the first blocks say.
  const moments = pairMoments(test, reference, 0.9 * multiplier);
  const groups = data.subjects || data.units ? groupsOf(data, n) : undefined;
  const design = groups?.design ?? "independent";
  const interval = requireInterval(options.interval, design, limits);
  if (readings > 1 && (design === "independent" || design === "clustered")) {
    throw new InputError(
      `${caller} requires units that repeat for the mean of ${readings} readings`,
    );
  }
  const sums =
    groups && (design !== "independent" || interval === "bootstrap")
      ? clusterSums(test, reference, groups.subjects, groups.units)
      : interval === "bootstrap"
        ? singletonSums(test, reference)
        : undefined;
  const model =
    sums && design !== "independent"
      ? clusteredModel(sums, readings)
      : independentModel(n, moments.bias, moments.squares);
  const run = { replicates, seed };
  const estimates =
    interval === "exact"
      ? exactLimits(model, n, multiplier, level, limits)
      : interval === "mover"
        ? moverLimits(model, multiplier, level)
        : interval === "bootstrap" && sums
          ? bootstrapLimits(sums, readings, multiplier, level, run)
          : approximateLimits(model, n, multiplier, level, approximateDesign(design));

  const shape = normality === "skip" ? {} : differenceShape(test, reference, moments.bias);
  const normal =
    design === "independent" && shape.skewness !== undefined && shape.excessKurtosis !== undefined
      ? normalityTest(n, shape.skewness, shape.excessKurtosis)
      : undefined;
  const heavy = Math.abs(shape.excessKurtosis ?? 0) > 1;
  const beside =
    sums && heavy && design !== "independent" && interval !== "bootstrap"
      ? { bootstrap: bootstrapLimits(sums, readings, multiplier, level, run) }
      : {};
  return {
    kind: "limits-of-agreement",
    n,
    subjects: groups?.subjects.count ?? n,
    units: groups?.units.count ?? n,
    direction: "test-minus-reference",
    level,
    coverage: 2 * normalCdf(multiplier) - 1,
    multiplier,
    interval,
    limits,
    design,
    readings,
    ...estimates,
    components: model.components,
    slope: trendSlope(data, moments, trend, level, groups?.subjects),
    trend,
    outside: outsideLimits(
      data,
      moments.far,
      [estimates.lower.value, estimates.upper.value],
      level,
      groups?.subjects,
    ),
    ...shape,
    ...(normal ? { normality: normal } : {}),
    ...beside,
    notes: limitNotes({ rowsOnly: groups === undefined, design, trend, heavy, interval }),
  };
}

interface Groups {
  readonly subjects: Clusters;
  readonly units: Clusters;
  readonly design: LimitDesign;
}

function groupsOf(data: PairedMeasurements, rows: number): Groups {
  const caller = "limitsOfAgreement";
  const subjects = clustersOf(caller, data.subjects ?? data.units, rows);
  const units = unitsWithin(caller, subjects, data.units, rows);
  const repeated = units.repeated;
  const clustered = subjects.count < units.count;
  if (subjects.count < 3) {
    throw new InputError(`${caller} requires at least 3 subjects, got ${subjects.count}`);
  }
  const design = repeated
    ? clustered
      ? "clustered-repeats"
      : "repeats"
    : clustered
      ? "clustered"
      : "independent";
  return { subjects, units, design };
}

function singletonSums(test: ArrayLike<number>, reference: ArrayLike<number>) {
  const each = clustersOf("limitsOfAgreement", undefined, test.length);
  return clusterSums(test, reference, each, each);
}

function approximateDesign(design: LimitDesign) {
  return design === "clustered-repeats" ? "clustered" : design;
}
