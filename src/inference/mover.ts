/** A number with its limits. */
interface Limits {
  readonly value: number;
  readonly low: number;
  readonly high: number;
}

/**
 * Limits of a sum of two independent estimates from the limits of each, by recovering the variance
 * on the side of each limit (square-and-add: Newcombe 1998; Zou and Donner 2008).
 * `correlation` is that of the two estimates, 0 by default.
 */
export function moverSum(first: Limits, second: Limits, correlation = 0): Limits {
  const value = first.value + second.value;
  const reach = (a: number, b: number) =>
    Math.sqrt(Math.max(0, a * a + b * b + 2 * correlation * a * b));
  return {
    value,
    low: value - reach(first.value - first.low, second.value - second.low),
    high: value + reach(first.high - first.value, second.high - second.value),
  };
}

/** Limits of a difference, first minus second, likewise. */
export function moverDifference(first: Limits, second: Limits, correlation = 0): Limits {
  return moverSum(
    first,
    { value: -second.value, low: -second.high, high: -second.low },
    -correlation,
  );
}
