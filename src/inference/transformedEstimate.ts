import { type Estimate, type Undefined, undefinedBecause } from "../results/index.js";
import { normalQuantile, tQuantile } from "./distributions.js";

/**
 * A share with its interval on the logit scale (delta method); undefined at exactly 0 or 1.
 *
 * @param df of Student's t; a normal quantile without
 */
export function logitEstimate(
  value: number,
  se: number,
  level: number,
  method = "logit",
  df?: number,
): Estimate | Undefined {
  if (!(value > 0 && value < 1))
    return undefinedBecause(`a share of ${value} has no logit interval`);
  const quantile = df === undefined ? twoSided(level) : tQuantile((1 + level) / 2, df);
  const spread = (quantile * se) / (value * (1 - value));
  const logit = Math.log(value / (1 - value));
  const at = (l: number) => 1 / (1 + Math.exp(-l));
  return {
    kind: "estimate",
    value,
    low: at(logit - spread),
    high: at(logit + spread),
    level,
    method,
    se,
  };
}

/** A positive number with its interval on the log scale; `logSe` is the SE of the logarithm. */
export function logEstimate(value: number, logSe: number, level: number, method: string): Estimate {
  const reach = Math.exp(twoSided(level) * logSe);
  return {
    kind: "estimate",
    value,
    low: value / reach,
    high: value * reach,
    level,
    method,
    se: value * logSe,
  };
}

/** A number with the symmetric interval, not cut at any bound. */
export function symmetricEstimate(
  value: number,
  se: number,
  level: number,
  method = "symmetric",
): Estimate {
  const spread = twoSided(level) * se;
  return { kind: "estimate", value, low: value - spread, high: value + spread, level, method, se };
}

/** A number with the symmetric interval of Student's t on its standard error. */
export function tEstimate(
  value: number,
  se: number,
  options: { readonly df: number; readonly level: number; readonly method: string },
): Estimate {
  const { df, level, method } = options;
  const spread = tQuantile((1 + level) / 2, df) * se;
  return { kind: "estimate", value, low: value - spread, high: value + spread, level, method, se };
}

/** The two-sided standard normal quantile. */
export const twoSided = (level: number): number => normalQuantile(1 - (1 - level) / 2);
