import { quantileSorted } from "simple-statistics";
import { effectiveSites, requireLevel, sortNumbers } from "../../inference/index.js";
import { type Estimate, InputError, type Undefined } from "../../results/index.js";
import { childrenOf, requirePairs, sitesOf } from "../../rows/index.js";
import { conditionalErrors } from "./conditionalErrors.js";
import { type ConditionalFit, conditionalFit, type Line, limitLine } from "./conditionalFit.js";
import {
  type ConditionalBand,
  type ConditionalPoint,
  conditionalBand,
  conditionalPoint,
  lineEstimate,
  scaledQuantiles,
} from "./conditionalLimits.js";
import type { PairedMeasurements } from "./pairedMeasurements.js";
import { siteSlope } from "./siteLimits.js";
import type { Trend } from "./trendSlope.js";

/** Limits of agreement that change with the magnitude. */
export interface RegressionLimits {
  readonly kind: "regression-limits";
  readonly n: number;
  readonly subjects: number;
  /** Sites above them, where `clusters` were given. */
  readonly sites?: number;
  readonly level: number;
  /** Share of differences between the limits. */
  readonly coverage: number;
  readonly against: Trend;
  readonly intercept: Estimate;
  readonly slope: Estimate;
  /** Mean absolute residual as a line of the magnitude: where its slope is not 0, the spread changes. */
  readonly spreadIntercept: Estimate;
  readonly spreadSlope: Estimate;
  /** Quantiles of residuals over the fitted spread: of normal ones -2.46 and 2.46 for 0.95. */
  readonly quantiles: readonly [number, number];
  readonly lower: Line;
  readonly upper: Line;
  /** Magnitudes between which the lines are limits: seen, and the fitted spread positive. */
  readonly range: readonly [number, number];
  /** Rows where the fitted spread is not positive. */
  readonly withoutSpread: number;
  /** Bias and limits at stated magnitudes, each interval on its own. */
  readonly points: readonly ConditionalPoint[];
  /** Both limits over the range at once. */
  readonly band: ConditionalBand | Undefined;
  readonly notes: readonly string[];
}

/**
 * Conditional limits of agreement, which change with magnitude: right if mean and spread are linear.
 * Test minus reference is regressed on the mean of both (or on `against`), the absolute residuals
 * likewise (Bland and Altman 1999, section 3.2), and the limits are quantiles of the residuals over
 * the fitted spread, so that skewed and heavy tails are respected.
 *
 * Interval of a limit: order statistics of the scaled residuals, as for percentile limits, and the
 * errors of both lines, squared and added with their correlation (MOVER; Zou and Donner 2008), by
 * children or, with `clusters`, by sites. Coverage is at least the printed level where bias and
 * spread are straight lines, whatever the shape; where the spread is bent it falls with n, and the band's first
 * (the coverage grid: "fan"). Below 103 effective rows the outer end is not reached ("one-sided"), below
 * 183, or 150 children, there is no band. Limits never cross: where the fitted spread is not safely positive they are
 * undefined. On the reference part of the slope is artefact.
 *
 * Test and reference are in one unit, dioptres as a rule, and so are the results.
 *
 * @param options at: magnitudes for `points`; by default five percentiles (5 to 95) of the data
 * @throws when the columns differ in length or hold a value that is not finite, there are fewer
 * than 4 rows or children, or the magnitude does not vary
 *
 * @example
 * regressionLimits({ test: [1.5, 2, 3.5, 4], reference: [1, 2, 3, 4] }).slope.value // => -0.0822
 */
export function regressionLimits(
  data: PairedMeasurements,
  options: {
    readonly against?: Trend;
    readonly level?: number;
    readonly coverage?: number;
    readonly at?: readonly number[];
  } = {},
): RegressionLimits {
  const caller = "regressionLimits";
  const { test, reference } = data;
  const { against = "mean" } = options;
  const level = requireLevel(caller, options.level ?? 0.95);
  const coverage = requireLevel(caller, options.coverage ?? 0.95);
  const n = requirePairs(caller, { test, reference }, 4);
  const children = childrenOf(caller, data, n);
  const sites = sitesOf(caller, data, children);
  if (children.count < 4) {
    throw new InputError(`${caller} requires at least 4 subjects, got ${children.count}`);
  }
  const column = (of: (row: number) => number) => Float64Array.from({ length: n }, (_, i) => of(i));
  const differences = column((row) => test[row] - reference[row]);
  const magnitude =
    against === "mean"
      ? column((row) => (test[row] + reference[row]) / 2)
      : column((row) => (against === "test" ? test : reference)[row]);
  const fit = conditionalFit(differences, magnitude);
  if (fit === null) {
    throw new InputError(
      `${caller} requires a ${against} that varies and differences off their line`,
    );
  }
  const whose = sites ?? children;
  if (sites && !(effectiveSites(Array.from(sites.sizes)) >= 2 - 1e-9)) {
    throw new InputError(
      `${caller} requires sites that count as 2 or more, got ${sites.count}; give subjects in place of clusters, knowing that differences between sites are then left out`,
    );
  }
  const scaled = scaledQuantiles(fit, whose, sites !== undefined, coverage);
  const quantiles = scaled.at(level);
  const errors = conditionalErrors(fit, scaled.values, whose, sites !== undefined);
  const coefficient = (which: "bias" | "spread", at: 0 | null) =>
    lineEstimate(fit[which], errors, which, at === null ? [0, 1] : [1, -fit.centre], at, level);
  const overSites = sites && siteSlope(data, against, sites, level);
  const at = options.at ?? percentilesOf(magnitude);
  const range = positiveRange(fit, magnitude);
  const grid = Array.from({ length: 21 }, (_, k) => range[0] + (k / 20) * (range[1] - range[0]));
  return {
    kind: "regression-limits",
    n,
    subjects: children.count,
    ...(sites ? { sites: sites.count } : {}),
    level,
    coverage,
    against,
    intercept: coefficient("bias", 0),
    slope: overSites?.kind === "estimate" ? overSites : coefficient("bias", null),
    spreadIntercept: coefficient("spread", 0),
    spreadSlope: coefficient("spread", null),
    quantiles: scaled.values,
    lower: limitLine(fit, scaled.values[0]),
    upper: limitLine(fit, scaled.values[1]),
    range,
    withoutSpread: fit.withoutSpread,
    points: at.map((x) => conditionalPoint(fit, errors, quantiles, x, level)),
    band: conditionalBand(fit, errors, scaled.at, grid, level, children.count),
    notes: ["Right if mean and spread are linear."],
  };
}

/** Where limits are shown unless it is said: five percentiles, 5 to 95. */
function percentilesOf(magnitude: Float64Array): number[] {
  const sorted = sortNumbers(magnitude.slice()) as never;
  return [0.05, 0.25, 0.5, 0.75, 0.95].map((p) => quantileSorted(sorted, p));
}

/** Magnitudes seen, cut where the fitted spread reaches 0. */
function positiveRange({ spreadAtRow }: ConditionalFit, magnitude: Float64Array): [number, number] {
  let [from, to] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (let row = 0; row < magnitude.length; row++) {
    if (!(spreadAtRow[row] > 0)) continue;
    from = Math.min(from, magnitude[row]);
    to = Math.max(to, magnitude[row]);
  }
  return [from, to];
}
