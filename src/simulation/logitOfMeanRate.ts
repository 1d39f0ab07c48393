/** (16 sqrt(3) / (15 pi))²: how much a normal spread on the logit scale draws the mean rate to one half. */
const attenuation = 0.346;

/**
 * The logit at the centre of a normal spread whose mean rate is `rate`: the mean over logit + spread * z,
 * z standard normal, is the rate again, to .007 for spreads up to 1 and .011 up to 2. A logistic curve
 * is taken for a normal one of SD 15 pi / (16 sqrt(3)), for which it would be exact.
 */
export function logitOfMeanRate(rate: number, spread: number): number {
  return Math.log(rate / (1 - rate)) * Math.sqrt(1 + attenuation * spread * spread);
}
