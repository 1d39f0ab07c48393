import { quantile } from "simple-statistics";
import {
  chiSquareQuantile,
  normalQuantile,
  requireLevel,
  tCdf,
  tQuantile,
} from "../../inference/index.js";
import {
  type Estimate,
  InputError,
  type Undefined,
  undefinedBecause,
} from "../../results/index.js";
import { clustersOf, requirePairs } from "../../rows/index.js";
import { coefficientEstimate, type LinearFit, linearFit } from "../regression/robustRegression.js";
import type { PairedMeasurements } from "./limitsOfAgreement.js";
import type { Trend } from "./trendSlope.js";

/** A straight line. */
export interface Line {
  readonly intercept: number;
  readonly slope: number;
}

export interface RegressionLimits {
  readonly kind: "regression-limits";
  readonly n: number;
  readonly subjects: number;
  readonly level: number;
  readonly multiplier: number;
  readonly against: Trend;
  readonly spread: "constant" | "changing";
  readonly intercept: Estimate;
  readonly slope: Estimate;
  /** Residual SD about the line, with n - 2. */
  readonly residualSd: number;
  /** Slope of the SD on the magnitude, and its p: whether `"changing"` is called for. */
  readonly spreadSlope: Estimate | Undefined;
  readonly spreadP: number | null;
  readonly lower: Line;
  readonly upper: Line;
  /** Bias and limits at stated magnitudes. */
  readonly points: readonly {
    readonly at: number;
    readonly bias: Estimate;
    readonly lower: Estimate;
    readonly upper: Estimate;
  }[];
}

/**
 * Limits of agreement that change with magnitude (Bland and Altman 1999, section 3.2): test minus
 * reference is regressed on the mean of both (or on `against`), and the limits run about that line.
 *
 * `spread: "constant"` (default) uses the residual SD; `"changing"` regresses the absolute
 * residuals, whose mean is SD sqrt(2/pi) where they are normal. Read `spreadP` before choosing.
 * Intervals at a point combine those of the line and of the SD (MOVER); errors of the coefficients
 * are cluster-robust where subjects repeat. On the reference part of the slope is artefact.
 *
 * Test and reference are in one unit, dioptres as a rule, and so are the results.
 *
 * @param options at: magnitudes for `points`; by default five percentiles (5 to 95) of the data
 * @throws when the columns differ in length or hold a value that is not finite, there are fewer
 * than 4 rows, or the magnitude does not vary
 *
 * @example
 * regressionLimits({ test: [1.5, 2, 3.5, 4], reference: [1, 2, 3, 4] }).slope.value // => -0.0822
 */
export function regressionLimits(
  data: Omit<PairedMeasurements, "units">,
  options: {
    readonly against?: Trend;
    readonly spread?: "constant" | "changing";
    readonly level?: number;
    readonly multiplier?: number;
    readonly at?: readonly number[];
  } = {},
): RegressionLimits {
  const caller = "regressionLimits";
  const { test, reference } = data;
  const { against = "mean", spread = "constant" } = options;
  const level = requireLevel(caller, options.level ?? 0.95);
  const multiplier = options.multiplier ?? normalQuantile(0.975);
  const n = requirePairs(caller, { test, reference }, 4);
  const clusters = clustersOf(caller, data.subjects, n);
  const column = (of: (row: number) => number) => Float64Array.from({ length: n }, (_, i) => of(i));
  const magnitude =
    against === "mean"
      ? column((row) => (test[row] + reference[row]) / 2)
      : column((row) => (against === "test" ? test : reference)[row]);
  const ones = new Float64Array(n).fill(1);
  const fit = linearFit(
    column((row) => test[row] - reference[row]),
    [ones, magnitude],
    clusters,
  );
  if (fit === null) throw new InputError(`${caller} requires a ${against} that varies`);
  const residualSd = Math.sqrt(fit.residualSquares / (n - 2));
  // The mean of |normal| is SD sqrt(2 / pi).
  const absolute = fit.residuals.map((value) => Math.abs(value) * Math.sqrt(Math.PI / 2));
  const spreadFit = linearFit(absolute, [ones, magnitude], clusters);
  const spreadSlope = spreadFit
    ? coefficientEstimate(spreadFit, 1, level)
    : undefinedBecause("the absolute residuals cannot be regressed");
  const line = (sign: number): Line => {
    const [intercept, slope] = fit.coefficients;
    const reach = sign * multiplier;
    return spread === "constant" || spreadFit === null
      ? { intercept: intercept + reach * residualSd, slope }
      : {
          intercept: intercept + reach * spreadFit.coefficients[0],
          slope: slope + reach * spreadFit.coefficients[1],
        };
  };
  const at = options.at ?? [0.05, 0.25, 0.5, 0.75, 0.95].map((p) => quantile([...magnitude], p));
  return {
    kind: "regression-limits",
    n,
    subjects: clusters.count,
    level,
    multiplier,
    against,
    spread,
    intercept: coefficientEstimate(fit, 0, level),
    slope: coefficientEstimate(fit, 1, level),
    residualSd,
    spreadSlope,
    spreadP: spreadFit ? coefficientP(spreadFit, 1) : null,
    lower: line(-1),
    upper: line(1),
    points: at.map((x) => {
      const bias = lineAt(fit, x, level);
      const sd =
        spread === "changing" && spreadFit
          ? lineAt(spreadFit, x, level)
          : constantSd(residualSd, fit.df, level);
      const limit = (sign: number) => limitOf(bias, sd, sign * multiplier, level);
      return { at: x, bias, lower: limit(-1), upper: limit(1) };
    }),
  };
}

/** Two-sided p of one coefficient. */
export function coefficientP(fit: LinearFit, index: number): number {
  const se = Math.sqrt(Math.max(0, fit.covariance[index][index]));
  if (!(se > 0)) return fit.coefficients[index] === 0 ? 1 : 0;
  return Math.min(1, 2 * tCdf(-Math.abs(fit.coefficients[index]) / se, fit.df));
}

function lineAt(fit: LinearFit, x: number, level: number): Estimate {
  const [[v00, v01], [, v11]] = fit.covariance;
  const value = fit.coefficients[0] + fit.coefficients[1] * x;
  const se = Math.sqrt(Math.max(0, v00 + 2 * x * v01 + x * x * v11));
  const half = tQuantile((1 + level) / 2, fit.df) * se;
  const method = fit.errors === "classical" ? "t" : "t-cluster-robust";
  return { kind: "estimate", value, low: value - half, high: value + half, level, method, se };
}

function constantSd(sd: number, df: number, level: number): Estimate {
  const at = (p: number) => sd * Math.sqrt(df / chiSquareQuantile(p, df));
  return {
    kind: "estimate",
    value: sd,
    low: at((1 + level) / 2),
    high: at((1 - level) / 2),
    level,
    method: "chi-square",
  };
}

function limitOf(bias: Estimate, sd: Estimate, reach: number, level: number): Estimate {
  const value = bias.value + reach * sd.value;
  const [inward, outward] = [sd.value - sd.low, sd.high - sd.value].map((d) => Math.abs(reach) * d);
  const half = bias.high - bias.value;
  return {
    kind: "estimate",
    value,
    low: value - Math.hypot(half, reach > 0 ? inward : outward),
    high: value + Math.hypot(half, reach > 0 ? outward : inward),
    level,
    method: "mover",
  };
}
