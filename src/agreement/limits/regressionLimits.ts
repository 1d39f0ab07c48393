import { quantile } from "simple-statistics";
import { requireLevel } from "../../inference/index.js";
import { type Estimate, InputError, type Undefined } from "../../results/index.js";
import { childrenOf, requireNoSites, requirePairs, requireWhole } from "../../rows/index.js";
import {
  type ConditionalBand,
  type ConditionalPoint,
  conditionalBand,
  conditionalFit,
  conditionalPoint,
  conditionalReplicates,
  type Line,
  limitLine,
  percentileEstimate,
} from "./conditionalLimits.js";
import type { PairedMeasurements } from "./pairedMeasurements.js";
import type { Trend } from "./trendSlope.js";

/** Limits of agreement that change with the magnitude. */
export interface RegressionLimits {
  readonly kind: "regression-limits";
  readonly n: number;
  readonly subjects: number;
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
  readonly replicates: number;
  readonly seed: number;
  readonly notes: readonly string[];
}

/**
 * Conditional limits of agreement, which change with magnitude: right if mean and spread are linear.
 * Test minus reference is regressed on the mean of both (or on `against`), the absolute residuals
 * likewise (Bland and Altman 1999, section 3.2), and the limits are quantiles of the residuals over
 * the fitted spread, so that skewed and heavy tails are respected.
 *
 * Intervals and the simultaneous band: bootstrap of children, percentiles (.88 to .95 for 0.95 from
 * 100 children on; the coverage grid). Limits never cross: where the fitted spread is not safely
 * positive they are undefined. On the reference part of the slope is artefact.
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
    /** Of the bootstrap, 1000 by default. */
    readonly replicates?: number;
    readonly seed?: number;
  } = {},
): RegressionLimits {
  const caller = "regressionLimits";
  const { test, reference } = data;
  const { against = "mean", replicates = 1000, seed = 1 } = options;
  const level = requireLevel(caller, options.level ?? 0.95);
  const coverage = requireLevel(caller, options.coverage ?? 0.95);
  requireWhole(caller, "replicates", replicates, 2);
  const n = requirePairs(caller, { test, reference }, 4);
  requireNoSites(caller, data);
  const children = childrenOf(caller, data, n);
  if (children.count < 4) {
    throw new InputError(`${caller} requires at least 4 subjects, got ${children.count}`);
  }
  const column = (of: (row: number) => number) => Float64Array.from({ length: n }, (_, i) => of(i));
  const differences = column((row) => test[row] - reference[row]);
  const magnitude =
    against === "mean"
      ? column((row) => (test[row] + reference[row]) / 2)
      : column((row) => (against === "test" ? test : reference)[row]);
  const fit = conditionalFit(differences, magnitude, coverage);
  if (fit === null) {
    throw new InputError(
      `${caller} requires a ${against} that varies and differences off their line`,
    );
  }
  const run = { coverage, replicates, seed };
  const drawn = conditionalReplicates(differences, magnitude, children, run);
  const fits = drawn.flatMap((one) => (one ? [one] : []));
  const coefficient = (line: "bias" | "spread", part: keyof Line) =>
    percentileEstimate(
      fit[line][part],
      fits.map((one) => one[line][part]),
      level,
    );
  const at = options.at ?? [0.05, 0.25, 0.5, 0.75, 0.95].map((p) => quantile([...magnitude], p));
  const range = positiveRange(fit.spread, magnitude);
  const grid = Array.from({ length: 21 }, (_, k) => range[0] + (k / 20) * (range[1] - range[0]));
  return {
    kind: "regression-limits",
    n,
    subjects: children.count,
    level,
    coverage,
    against,
    intercept: coefficient("bias", "intercept"),
    slope: coefficient("bias", "slope"),
    spreadIntercept: coefficient("spread", "intercept"),
    spreadSlope: coefficient("spread", "slope"),
    quantiles: fit.quantiles,
    lower: limitLine(fit, 0),
    upper: limitLine(fit, 1),
    range,
    withoutSpread: fit.withoutSpread,
    points: at.map((x) => conditionalPoint(fit, drawn, x, level)),
    band: conditionalBand(fit, drawn, grid, level),
    replicates,
    seed,
    notes: [
      "Right if mean and spread are linear.",
      ...(children.count < 100
        ? [`${children.count} children: below 100 the intervals cover too little.`]
        : []),
    ],
  };
}

/** Magnitudes seen, cut where the fitted spread reaches 0. */
function positiveRange(spread: Line, magnitude: Float64Array): [number, number] {
  let [from, to] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const x of magnitude) {
    if (!(spread.intercept + spread.slope * x > 0)) continue;
    from = Math.min(from, x);
    to = Math.max(to, x);
  }
  return [from, to];
}
