import { chiSquareQuantile, normalQuantile, tEstimate, tQuantile } from "../../inference/index.js";
import type { Estimate } from "../../results/index.js";
import { type LimitFactors, pairedLimitFactors, singleLimitFactors } from "./limitFactors.js";
import type { LimitModel } from "./limitModel.js";

/** The four estimates that limits of agreement consist of. */
export interface LimitEstimates {
  readonly bias: Estimate;
  readonly sd: Estimate;
  readonly lower: Estimate;
  readonly upper: Estimate;
}

/** Exact for independent normal differences (Carkeet 2015): each limit, or the pair together. */
export function exactLimits(
  model: LimitModel,
  n: number,
  multiplier: number,
  level: number,
  limits: "each" | "pair",
): LimitEstimates {
  const sd = Math.sqrt(model.variance);
  const factors: LimitFactors =
    limits === "each"
      ? singleLimitFactors(n, multiplier, level)
      : pairedLimitFactors(n, multiplier, level);
  const limit = (sign: number): Estimate => {
    const [a, b] = [factors.inner, factors.outer].map((factor) => model.bias + sign * factor * sd);
    return {
      kind: "estimate",
      value: model.bias + sign * multiplier * sd,
      low: Math.min(a, b),
      high: Math.max(a, b),
      level,
      method: limits === "each" ? "exact" : "exact-pair",
    };
  };
  return {
    bias: biasByT(model, level),
    sd: sdByChiSquare(model, level),
    lower: limit(-1),
    upper: limit(1),
  };
}

/**
 * The large-sample interval: SE² = SD²/n (1 + multiplier²/2) with Student's t for independent rows,
 * which is 3 SD²/n for two SDs (Bland and Altman 1986) and 1.71² SD²/n for 1.96 (1999); for
 * repeats the delta method over the variance components with the normal quantile (1999, section 5.1).
 */
export function approximateLimits(
  model: LimitModel,
  n: number,
  multiplier: number,
  level: number,
  design: "independent" | "clustered" | "repeats",
): LimitEstimates {
  const sd = Math.sqrt(model.variance);
  let [quantile, square] = [0, 0];
  if (design === "independent") {
    quantile = tQuantile((1 + level) / 2, n - 1);
    square = (model.variance / n) * (1 + (multiplier * multiplier) / 2);
  } else {
    quantile = normalQuantile((1 + level) / 2);
    const varianceOfVariance = model.terms.reduce(
      (sum, term) => sum + (2 * (term.coefficient * term.meanSquare) ** 2) / term.df,
      0,
    );
    const biasVariance =
      design === "repeats" ? model.variance / (model.biasDf + 1) : model.biasSe * model.biasSe;
    square = biasVariance + (multiplier * multiplier * varianceOfVariance) / (4 * model.variance);
  }
  const se = Math.sqrt(square);
  const limit = (sign: number): Estimate => {
    const value = model.bias + sign * multiplier * sd;
    return {
      kind: "estimate",
      value,
      low: value - quantile * se,
      high: value + quantile * se,
      level,
      method: "approximate",
      se,
    };
  };
  return {
    bias: biasByT(model, level),
    sd: design === "independent" ? sdByChiSquare(model, level) : sdByMover(model, level),
    lower: limit(-1),
    upper: limit(1),
  };
}

/**
 * Interval of each limit by recovering the variance of its parts on the side that matters (Zou
 * 2013): bias by Student's t over clusters, each mean square by chi-square.
 */
export function moverLimits(model: LimitModel, multiplier: number, level: number): LimitEstimates {
  const bias = biasByT(model, level);
  const sd = sdByMover(model, level);
  const limit = (sign: number): Estimate => {
    const value = model.bias + sign * multiplier * sd.value;
    const shrink = multiplier * (sd.value - sd.low);
    const grow = multiplier * (sd.high - sd.value);
    const half = bias.high - bias.value;
    return {
      kind: "estimate",
      value,
      low: value - Math.hypot(half, sign > 0 ? shrink : grow),
      high: value + Math.hypot(half, sign > 0 ? grow : shrink),
      level,
      method: "mover",
    };
  };
  return { bias, sd, lower: limit(-1), upper: limit(1) };
}

function biasByT(model: LimitModel, level: number): Estimate {
  const method = model.terms.length === 1 ? "t" : "t-clusters";
  return tEstimate(model.bias, model.biasSe, { df: model.biasDf, level, method });
}

function sdByChiSquare(model: LimitModel, level: number): Estimate {
  const df = model.biasDf;
  const at = (p: number) => Math.sqrt((df * model.variance) / chiSquareQuantile(p, df));
  return {
    kind: "estimate",
    value: Math.sqrt(model.variance),
    low: at((1 + level) / 2),
    high: at((1 - level) / 2),
    level,
    method: "chi-square",
  };
}

/** Square root of MOVER limits of a sum of mean squares; a negative coefficient turns its sides. */
function sdByMover(model: LimitModel, level: number): Estimate {
  let below = 0;
  let above = 0;
  for (const { coefficient, meanSquare, df } of model.terms) {
    const shrink = meanSquare * (1 - df / chiSquareQuantile((1 + level) / 2, df));
    const grow = meanSquare * (df / chiSquareQuantile((1 - level) / 2, df) - 1);
    below += (coefficient * (coefficient > 0 ? shrink : grow)) ** 2;
    above += (coefficient * (coefficient > 0 ? grow : shrink)) ** 2;
  }
  return {
    kind: "estimate",
    value: Math.sqrt(model.variance),
    low: Math.sqrt(Math.max(0, model.variance - Math.sqrt(below))),
    high: Math.sqrt(model.variance + Math.sqrt(above)),
    level,
    method: "mover",
  };
}
