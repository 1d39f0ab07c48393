import { normalCdf, requireLevel } from "../../inference/index.js";
import {
  type Estimate,
  type ForAudience,
  formerNames,
  InputError,
  jointAudience,
  type Undefined,
  undefinedBecause,
} from "../../results/index.js";
import { clustersOf, requirePairs } from "../../rows/index.js";
import { clusterSums } from "./clusterSums.js";
import { conditionalBeside } from "./conditionalBeside.js";
import { differenceShape } from "./differenceShape.js";
import { bootstrapLimits } from "./limitBootstrap.js";
import { limitGroups } from "./limitGroups.js";
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
import type { LeadingLimits, LimitsData, LimitsOptions } from "./limitsData.js";
import { type NormalityTest, normalityTest } from "./normalityTest.js";
import { rankedDifferences } from "./orderedDifferences.js";
import { type OutsideLimits, outsideLimits } from "./outsideLimits.js";
import { pairMoments } from "./pairMoments.js";
import { type PercentileLimits, percentileLimits } from "./percentileLimits.js";
import type { RegressionLimits } from "./regressionLimits.js";
import { siteLimits, siteShareOutside, siteSlope } from "./siteLimits.js";
import { type Trend, trendSlope } from "./trendSlope.js";
import { type WithoutEndOfRange, withoutEndOfRange } from "./withoutEndOfRange.js";

/** Limits of agreement of two measurements, test minus reference. */
export interface LimitsOfAgreement extends LimitEstimates, ForAudience {
  readonly kind: "limits-of-agreement";
  /** Rows. */
  readonly n: number;
  /** Children, or rows where no subjects are given. */
  readonly subjects: number;
  /** Eyes, or rows where units do not repeat. */
  readonly units: number;
  /** Sites, where `clusters` were given. */
  readonly sites?: number;
  readonly direction: "test-minus-reference";
  readonly level: number;
  /** Share of normal differences between the limits. */
  readonly coverage: number;
  readonly multiplier: number;
  readonly interval: LimitInterval;
  readonly intervalFor: "each" | "pair";
  readonly design: LimitDesign;
  /** Test readings that one limit is for. */
  readonly readings: number;
  readonly components: VarianceComponents;
  readonly slope: Estimate | Undefined;
  readonly trend: Trend;
  /** Rows below the lower and above the upper limit. */
  readonly outside: OutsideLimits;
  /** `lower` and `upper` are bias ± SDs: right if the differences are normal. */
  readonly assumes: "normal differences";
  /** The summary that leads in sentences and verdicts. */
  readonly leads: LeadingLimits;
  /** Percentiles of the differences, right whatever their shape. */
  readonly percentile: PercentileLimits | Undefined;
  /** Limits that change with magnitude, right if mean and spread are linear. */
  readonly conditional: RegressionLimits | Undefined;
  /** Without readings at an end of the instrument's range, where these were marked and there are any. */
  readonly withoutEndOfRange?: WithoutEndOfRange | Undefined;
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
 * Two summaries, always both: `lower` and `upper`, right if the differences are normal, and
 * `percentile` limits, right whatever their shape, which lead unless `leads` says otherwise; from 100
 * children on `conditional` limits, right if mean and spread are linear.
 *
 * Without `subjects` it assumes independent rows. Intervals: `"exact"` (noncentral t, Carkeet 2015;
 * default for independent rows), `"mover"` (Zou 2013; default when subjects repeat),
 * `"bootstrap"` (children drawn with replacement), `"approximate"` (1986, 1999). With `clusters` every
 * interval is a delete-one-site jackknife (`"site-jackknife"`). Clustering hardly
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
  data: LimitsData,
  options: LimitsOptions = {},
): LimitsOfAgreement {
  const caller = "limitsOfAgreement";
  options = formerNames(caller, options, "limits");
  const { test, reference } = data;
  const { intervalFor = "each", trend = "mean", readings = 1, normality = "check" } = options;
  const { replicates = 2000, seed = 1 } = options;
  const { leads = "percentile" } = options;
  if (leads !== "percentile" && leads !== "normal") {
    throw new InputError(`${caller} requires leads "percentile" or "normal", got "${leads}"`);
  }
  const n = requirePairs(caller, { test, reference }, 3);
  const level = requireLevel(caller, options.level ?? 0.95);
  const multiplier = requireMultiplier(options);
  // A little nearer than the limits, which end elsewhere than the first blocks say.
  const moments = pairMoments(test, reference, 0.9 * multiplier);
  const groups = data.subjects || data.units || data.clusters ? limitGroups(data, n) : undefined;
  const design = groups?.design ?? "independent";
  const interval = requireInterval(options.interval, groups?.sites ? "sites" : design, intervalFor);
  if (readings > 1 && (design === "independent" || design === "clustered")) {
    throw new InputError(
      `${caller} requires units that repeat for the mean of ${readings} readings`,
    );
  }
  const sums =
    groups && design !== "independent"
      ? clusterSums(test, reference, groups.subjects, groups.units)
      : interval === "bootstrap"
        ? singletonSums(test, reference)
        : undefined;
  const model =
    sums && design !== "independent"
      ? clusteredModel(sums, readings)
      : independentModel(n, moments.bias, moments.squares);
  const run = { replicates, seed };
  const estimates = groups?.sites
    ? siteLimits(data, groups.sites, model, multiplier, level)
    : interval === "exact"
      ? exactLimits(model, n, multiplier, level, intervalFor)
      : interval === "mover"
        ? moverLimits(model, multiplier, level)
        : interval === "bootstrap" && sums
          ? bootstrapLimits(sums, readings, multiplier, level, run)
          : approximateLimits(model, n, multiplier, level, approximateDesign(design));

  const coverage = 2 * normalCdf(multiplier) - 1;
  const outside = outsideLimits(
    data,
    moments.far,
    [estimates.lower.value, estimates.upper.value],
    level,
    groups?.subjects,
  );
  const shape = normality === "skip" ? {} : differenceShape(test, reference, moments.bias);
  const normal =
    design === "independent" && shape.skewness !== undefined && shape.excessKurtosis !== undefined
      ? normalityTest(n, shape.skewness, shape.excessKurtosis)
      : undefined;
  const heavy = Math.abs(shape.excessKurtosis ?? 0) > 1;
  const beside =
    sums && heavy && design !== "independent" && interval !== "bootstrap" && !groups?.sites
      ? { bootstrap: bootstrapLimits(sums, readings, multiplier, level, run) }
      : {};
  return {
    kind: "limits-of-agreement",
    ...jointAudience(data),
    n,
    subjects: groups?.subjects.count ?? n,
    units: groups?.units.count ?? n,
    ...(groups?.sites ? { sites: groups.sites.count } : {}),
    direction: "test-minus-reference",
    level,
    coverage,
    multiplier,
    interval,
    intervalFor,
    design,
    readings,
    ...estimates,
    components: model.components,
    slope: groups?.sites
      ? siteSlope(data, trend, groups.sites, level)
      : trendSlope(data, moments, trend, level, groups?.subjects),
    trend,
    outside: groups?.sites
      ? { ...outside, share: siteShareOutside(data, estimates, groups.sites, level) }
      : outside,
    assumes: "normal differences",
    leads,
    percentile:
      readings > 1
        ? undefinedBecause("percentiles are of single readings, not of means of repeats")
        : percentileLimits(
            {
              at: rankedDifferences(data, moments.far),
              n,
              ...(groups ? { clusters: groups.sites ?? groups.subjects } : {}),
              differenceOf: (row) => test[row] - reference[row],
              sites: groups?.sites !== undefined,
            },
            coverage,
            level,
          ),
    conditional: conditionalBeside(data, groups, { ...options, coverage, level, trend }),
    ...(data.endOfRange
      ? {
          withoutEndOfRange: withoutEndOfRange(data, data.endOfRange, (rows) =>
            limitsOfAgreement(rows, { ...options, conditional: "skip" }),
          ),
        }
      : {}),
    ...shape,
    ...(normal ? { normality: normal } : {}),
    ...beside,
    notes: limitNotes({
      rowsOnly: groups === undefined,
      design,
      trend,
      heavy,
      interval,
      sites: groups?.sites?.count,
    }),
  };
}

function singletonSums(test: ArrayLike<number>, reference: ArrayLike<number>) {
  const each = clustersOf("limitsOfAgreement", undefined, test.length);
  return clusterSums(test, reference, each, each);
}

function approximateDesign(design: LimitDesign) {
  return design === "clustered-repeats" ? "clustered" : design;
}
