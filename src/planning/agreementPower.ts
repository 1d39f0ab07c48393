import type { LimitFactors } from "../agreement/index.js";
import { singleLimitFactors } from "../agreement/index.js";
import { normalCdf, normalQuantile, tQuantile } from "../inference/index.js";

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
  const reach = outer * Math.sqrt(n);
  const df = n - 1;
  // the SD over its expected value, as far as it has noticeable density
  const spread = 12 / Math.sqrt(2 * n);
  const [first, last] = [Math.max(1e-9, 1 - spread), 1 + spread];
  const density = (u: number) => Math.exp(df * (0.5 - (u * u) / 2) + (df - 1) * Math.log(u));
  // beyond this SD the two limits together are wider than the room for them
  const widest = Math.min(last, (above - below) / (2 * reach));
  if (widest <= first) return 0;
  const within = simpson(first, widest, (u) => {
    return density(u) * (normalCdf(above - reach * u) - normalCdf(below + reach * u));
  });
  return Math.min(1, within / simpson(first, last, density));
}

/** Simpson's rule over 1000 steps, for a smooth function. */
function simpson(from: number, to: number, value: (x: number) => number): number {
  const step = (to - from) / 1000;
  let sum = value(from) + value(to);
  for (let k = 1; k < 1000; k++) sum += (k % 2 === 1 ? 4 : 2) * value(from + k * step);
  return (sum * step) / 3;
}
