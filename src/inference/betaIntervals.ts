import { betaQuantile } from "./distributions.js";

/** Clopper and Pearson's exact limits (1934), by quantiles of the beta distribution. */
export function clopperPearsonLimits(x: number, n: number, alpha: number): [number, number] {
  return [
    x === 0 ? 0 : betaQuantile(alpha / 2, x, n - x + 1),
    x === n ? 1 : betaQuantile(1 - alpha / 2, x + 1, n - x),
  ];
}

/**
 * Equal-tailed limits under Jeffreys' prior Beta(1/2, 1/2); 0 at x = 0 and 1 at x = n, as in
 * Brown, Cai and DasGupta 2001.
 */
export function jeffreysLimits(x: number, n: number, alpha: number): [number, number] {
  return [
    x === 0 ? 0 : betaQuantile(alpha / 2, x + 0.5, n - x + 0.5),
    x === n ? 1 : betaQuantile(1 - alpha / 2, x + 0.5, n - x + 0.5),
  ];
}
