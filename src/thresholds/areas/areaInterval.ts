import { normalQuantile, tQuantile } from "../../inference/index.js";

type AreaScale = "logit" | "plain";

interface AreaLimits {
  readonly low: number;
  readonly high: number;
  readonly method: string;
  readonly se?: number;
}

/**
 * Limits of an area from its standard error, on the logit scale or on the plain one, where they are
 * cut at 0 and 1.
 *
 * Complete separation (area 1 or 0) has no standard error: the limit then comes from the `pairs`
 * disjoint pairs, one row of each class, that can be formed from independent children. All of them
 * are in order, which happens with probability at most area^pairs, so the exact binomial limit for
 * all of `pairs` successes holds and is conservative.
 */
export function areaLimits(
  area: number,
  se: number,
  level: number,
  options: {
    readonly method: string;
    readonly scale: AreaScale;
    /** Degrees of freedom of a t quantile; infinite for the normal one. */
    readonly df: number;
    readonly pairs: number;
  },
): AreaLimits {
  const tail = (1 - level) / 2;
  if (area === 1 || area === 0) {
    const reach = tail ** (1 / options.pairs);
    const limits = area === 1 ? { low: reach, high: 1 } : { low: 0, high: 1 - reach };
    return { ...limits, method: "exact-on-disjoint-pairs" };
  }
  const z = Number.isFinite(options.df)
    ? tQuantile(1 - tail, options.df)
    : normalQuantile(1 - tail);
  if (options.scale === "plain") {
    return {
      low: Math.max(0, area - z * se),
      high: Math.min(1, area + z * se),
      method: options.method,
      se,
    };
  }
  const logit = Math.log(area / (1 - area));
  const half = (z * se) / (area * (1 - area));
  return {
    low: 1 / (1 + Math.exp(half - logit)),
    high: 1 / (1 + Math.exp(-half - logit)),
    method: `${options.method}-logit${Number.isFinite(options.df) ? "-t" : ""}`,
    se,
  };
}
