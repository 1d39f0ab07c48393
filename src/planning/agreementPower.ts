import { singleLimitFactors } from "../agreement/limitFactors.js";
import { normalCdf, normalQuantile, tQuantile } from "../inference/distributions.js";
import { scaleNodes } from "../inference/noncentralT.js";
import type { LimitFactors } from "../agreement/limitFactors.js";

export type PlannedLimits = "exact" | "approximate" | "lu-2016";

/** SDs from the bias at which the interval of the upper limit begins and ends. */
export function plannedFactors(
  interval: PlannedLimits,
  n: number,
  coverage: number,
  level: number,
): LimitFactors {
  const multiplier = normalQuantile((1 + coverage) / 2);
  if (interval === "exact") return singleLimitFactors(n, multiplier, level);
  // Lu and others 2016 divide by n - 1 in the second part; limitsOfAgreement by n
  const df = interval === "lu-2016" ? n - 1 : n;
  const reach = tQuantile((1 + level) / 2, n - 1) * Math.sqrt(1 / n + multiplier ** 2 / (2 * df));
  return { inner: multiplier - reach, outer: multiplier + reach };
}

/**
 * The chance that bias ± outer SD, as found in n independent normal differences, both lie within
 * ± within: the mean is normal, the SD is that of chi-square, and they are independent.
 */
export function agreementPower(
  n: number,
  outer: number,
  expected: { readonly bias: number; readonly sd: number; readonly within: number },
): number {
  const root = Math.sqrt(n) / expected.sd;
  const above = (expected.within - expected.bias) * root;
  const below = (-expected.within - expected.bias) * root;
  const { scale, weight } = scaleNodes(n - 1, Math.max(above, -below));
  const reach = outer * Math.sqrt(n);
  return scale.reduce((sum, s, at) => {
    const [high, low] = [above - reach * s, below + reach * s];
    return high > low ? sum + weight[at] * (normalCdf(high) - normalCdf(low)) : sum;
  }, 0);
}
