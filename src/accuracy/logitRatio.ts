/**
 * The ratio of two shares, x1 of n1 over x2 of n2, with limits on the log scale: z is the two-sided normal quantile.
 * Both counts are above 0.
 *
 * The report's page carries the text of this function, which therefore names nothing outside itself.
 */
export function logitRatio(
  x1: number,
  n1: number,
  x2: number,
  n2: number,
  z: number,
): { readonly value: number; readonly low: number; readonly high: number } {
  const value = x1 / n1 / (x2 / n2);
  const spread = z * Math.sqrt(1 / x1 - 1 / n1 + 1 / x2 - 1 / n2);
  return { value, low: value * Math.exp(-spread), high: value * Math.exp(spread) };
}
