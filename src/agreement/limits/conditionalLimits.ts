import { fQuantile, normalCdf, sortNumbers, tQuantile } from "../../inference/index.js";
import {
  type Estimate,
  type OneSided,
  type Undefined,
  undefinedBecause,
} from "../../results/index.js";
import { type Clusters, clustersOf } from "../../rows/index.js";
import { quadraticForm } from "../regression/smallMatrix.js";
import type { ConditionalErrors } from "./conditionalErrors.js";
import { type ConditionalFit, heightAt, type Line, limitLine } from "./conditionalFit.js";
import { quantileOfRanks } from "./orderedDifferences.js";
import { type PercentileLimit, percentileLimits } from "./percentileLimits.js";

export interface ConditionalPoint {
  readonly at: number;
  readonly bias: Estimate;
  readonly lower: Estimate | OneSided | Undefined;
  readonly upper: Estimate | OneSided | Undefined;
}

/** Limits over the whole range at once: their band holds everywhere at the level. */
export interface ConditionalBand {
  readonly kind: "conditional-band";
  readonly level: number;
  readonly points: readonly {
    readonly at: number;
    readonly lower: readonly [number, number];
    readonly upper: readonly [number, number];
  }[];
}

/**
 * Below these a band of level .95 covered too little (the coverage grid): with 8 sites .87, with 20 .93;
 * with 100 children of two eyes .84 to .95, with 150 .95 to .98.
 */
const leastSites = 20;
const leastChildren = 150;

/** Quantiles of the scaled residuals with their intervals by order statistics. */
export type ScaledQuantiles = readonly [PercentileLimit | Undefined, PercentileLimit | Undefined];

/** Quantiles of the residuals over their spread, and their intervals at any level, on the same ranks. */
export function scaledQuantiles(
  { residuals, spreadAtRow, withoutSpread }: ConditionalFit,
  whose: Clusters,
  sites: boolean,
  coverage: number,
): {
  readonly values: readonly [number, number];
  readonly at: (level: number) => ScaledQuantiles;
} {
  const n = residuals.length;
  const rows = Int32Array.from({ length: n }, (_, row) => row).filter(
    (row) => spreadAtRow[row] > 0,
  );
  const scaled = Float64Array.from(rows, (row) => residuals[row] / spreadAtRow[row]);
  const sorted = sortNumbers(scaled.slice());
  const clusters =
    withoutSpread === 0
      ? whose
      : clustersOf(
          "regressionLimits",
          Int32Array.from(rows, (row) => whose.ofRow[row]),
          rows.length,
        );
  const ordered = {
    at: (rank: number) => sorted[rank - 1],
    n: rows.length,
    clusters,
    differenceOf: (row: number) => scaled[row],
    sites,
  };
  return {
    values: [
      quantileOfRanks(ordered.at, rows.length, (1 - coverage) / 2),
      quantileOfRanks(ordered.at, rows.length, (1 + coverage) / 2),
    ],
    at: (level) => {
      const { lower, upper } = percentileLimits(ordered, coverage, level);
      return [lower, upper];
    },
  };
}

/** Bias and limits at one magnitude; a limit is undefined where the fitted spread is not safely positive. */
export function conditionalPoint(
  fit: ConditionalFit,
  errors: ConditionalErrors,
  quantiles: ScaledQuantiles,
  at: number,
  level: number,
): ConditionalPoint {
  const t = tQuantile((1 + level) / 2, errors.df);
  const safe = safelyPositive(fit, errors, at, level);
  const limit = (side: 0 | 1): Estimate | OneSided | Undefined => {
    const quantile = quantiles[side];
    if (!safe) {
      return undefinedBecause(
        "the fitted spread is not safely positive here: the limits would cross",
      );
    }
    if (quantile.kind === "undefined") return quantile;
    const [low, high] = limitEnds(fit, errors, quantile, side, at, t);
    const value = heightAt(limitLine(fit, quantile.value), at);
    const method =
      errors.method === "t-sites-rough"
        ? "order-statistics-and-lines-rough"
        : "order-statistics-and-lines";
    const shape = { value, level: quantile.level, method };
    return quantile.kind === "one-sided"
      ? { kind: "one-sided", ...shape, low, high, reason: quantile.reason }
      : { kind: "estimate", ...shape, low: low!, high: high! };
  };
  return {
    at,
    bias: lineEstimate(fit.bias, errors, "bias", [1, at - fit.centre], at, level),
    lower: limit(0),
    upper: limit(1),
  };
}

/**
 * Both limits over the range at once. A limit's error is one multiple of a line and one of the
 * fitted spread, so that its largest standardised departure over all magnitudes has the law of a
 * distance in two dimensions (Scheffé 1953); the two limits share the level (Bonferroni).
 */
export function conditionalBand(
  fit: ConditionalFit,
  errors: ConditionalErrors,
  quantilesAt: (level: number) => ScaledQuantiles,
  magnitudes: readonly number[],
  level: number,
  children: number,
): ConditionalBand | Undefined {
  if (children < leastChildren) {
    return undefinedBecause(
      `${children} children: below ${leastChildren} the band covers too little`,
    );
  }
  if (errors.method.startsWith("t-sites") && errors.df + 1 < leastSites - 1e-9) {
    return undefinedBecause(
      `sites that count as ${(errors.df + 1).toFixed(1)}: below ${leastSites} the band covers too little`,
    );
  }
  const each = (1 + level) / 2;
  const reach = Math.sqrt(2 * fQuantile(each, 2, errors.df));
  // The same distance without a doubt of the spread, as the level of an interval.
  const own = 2 * normalCdf(Math.sqrt(-2 * Math.log(1 - each))) - 1;
  const quantiles = quantilesAt(own);
  const [lower, upper] = quantiles;
  if (lower.kind !== "estimate") return undefinedBecause(lower.reason);
  if (upper.kind !== "estimate") return undefinedBecause(upper.reason);
  const safe = magnitudes.filter((at) => safelyPositive(fit, errors, at, level));
  if (safe.length === 0) return undefinedBecause("the fitted spread is nowhere safely positive");
  const ends = (side: 0 | 1, at: number) =>
    limitEnds(fit, errors, side === 0 ? lower : upper, side, at, reach) as [number, number];
  return {
    kind: "conditional-band",
    // An extreme in place of a rank outside the sample costs each limit some of its level.
    level: level - (own - lower.level) - (own - upper.level),
    points: safe.map((at) => ({ at, lower: ends(0, at), upper: ends(1, at) })),
  };
}

/** A line's height (or its slope) with Student's t. */
export function lineEstimate(
  line: Line,
  { covariance, df, method }: ConditionalErrors,
  which: "bias" | "spread",
  direction: readonly [number, number],
  at: number | null,
  level: number,
): Estimate {
  const value = at === null ? line.slope : heightAt(line, at);
  const se = Math.sqrt(quadraticForm(direction, block(covariance, which === "bias" ? 0 : 2)));
  const half = tQuantile((1 + level) / 2, df) * se;
  return {
    kind: "estimate",
    value,
    low: value - half,
    high: value + half,
    level,
    method,
    se,
  };
}

const block = (covariance: ConditionalErrors["covariance"], from: number) =>
  covariance.slice(from, from + 2).map((row) => row.slice(from, from + 2));

function safelyPositive(
  { spread, centre }: ConditionalFit,
  { covariance, df }: ConditionalErrors,
  at: number,
  level: number,
): boolean {
  const se = Math.sqrt(quadraticForm([1, at - centre], block(covariance, 2)));
  return heightAt(spread, at) - tQuantile(level, df) * se > 0;
}

/**
 * Ends of a limit by squaring and adding, correlation included (Zou and Donner 2008): the error of
 * the lines at a quantile held fixed, and the quantile's own distance to its order statistics times
 * the spread. Null where the quantile's end is not reached.
 */
function limitEnds(
  { bias, spread, centre }: ConditionalFit,
  { covariance, perSpread }: ConditionalErrors,
  quantile: PercentileLimit,
  side: 0 | 1,
  at: number,
  reach: number,
): [number | null, number | null] {
  const q = quantile.value;
  const height = heightAt(spread, at);
  const value = heightAt(bias, at) + q * height;
  // An error of the lines moves all scaled residuals, and so the quantile, by its mean over rows.
  const c = [1 - height * perSpread[0], at - centre - height * perSpread[1]];
  const direction = [c[0], c[1], q * c[0], q * c[1]];
  const variance = quadraticForm(
    direction,
    covariance.slice(0, 4).map((row) => row.slice(0, 4)),
  );
  const share = 4 + side;
  const product = direction.reduce((sum, one, k) => sum + one * covariance[k][share], 0);
  const scale = Math.sqrt(variance * covariance[share][share]);
  // More rows at or below the lower quantile pull it down, more at or above the upper one up.
  const correlation =
    scale > 0 ? Math.max(-1, Math.min(1, ((side === 0 ? -1 : 1) * product) / scale)) : 0;
  const line = reach * Math.sqrt(Math.max(0, variance));
  const distance = (end: number | null) => {
    if (end === null) return null;
    const own = height * Math.abs(q - end);
    return Math.sqrt(Math.max(0, line * line + own * own + 2 * correlation * line * own));
  };
  const [down, up] = [distance(quantile.low), distance(quantile.high)];
  return [down === null ? null : value - down, up === null ? null : value + up];
}
