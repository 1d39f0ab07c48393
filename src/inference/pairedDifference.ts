import { type Estimate, type Undefined, undefinedBecause } from "../results/index.js";
import { normalQuantile } from "./distributions.js";
import { moverDifference } from "./mover.js";
import { wilsonLimits } from "./wilsonInterval.js";

/** Two yes/no results of the same n units. */
export interface PairedCounts {
  readonly both: number;
  readonly firstOnly: number;
  readonly secondOnly: number;
  readonly neither: number;
}

/**
 * Difference of two paired proportions, first minus second, by square-and-add of Wilson's limits
 * with a continuity-corrected correlation (Newcombe 1998, method 10). Counts need not be whole.
 */
export function newcombePaired(counts: PairedCounts, level: number): Estimate | Undefined {
  const { both: e, firstOnly: f, secondOnly: g, neither: h } = counts;
  const n = e + f + g + h;
  if (n === 0) return undefinedBecause("no pairs");
  const z = normalQuantile(1 - (1 - level) / 2);
  const side = (x: number) => {
    const [low, high] = wilsonLimits(x, n, z);
    return { value: x / n, low, high };
  };
  const margins = (e + f) * (g + h) * (e + g) * (f + h);
  const product = e * h - f * g;
  const corrected = product > 0 ? Math.max(0, product - n / 2) : product;
  const phi = margins === 0 ? 0 : corrected / Math.sqrt(margins);
  const { low, high } = moverDifference(side(e + f), side(e + g), phi);
  return { kind: "estimate", value: (f - g) / n, low, high, level, method: "newcombe-paired" };
}

/** The same difference by the score interval of Tango 1998. */
export function tangoPaired(counts: PairedCounts, level: number): Estimate | Undefined {
  const { both, firstOnly: b, secondOnly: c, neither } = counts;
  const n = both + b + c + neither;
  if (n === 0) return undefinedBecause("no pairs");
  const z = normalQuantile(1 - (1 - level) / 2);
  const value = (b - c) / n;
  const score = (delta: number) => {
    const linear = -b - c + (2 * n - b + c) * delta;
    const constant = -c * delta * (1 - delta);
    const q = (Math.sqrt(Math.max(0, linear ** 2 - 8 * n * constant)) - linear) / (4 * n);
    const variance = n * (2 * q + delta * (1 - delta));
    const distance = b - c - n * delta;
    return distance === 0 ? 0 : distance / Math.sqrt(Math.max(0, variance));
  };
  return {
    kind: "estimate",
    value,
    low: crossing(score, z, -1, value),
    high: crossing(score, -z, 1, value),
    level,
    method: "tango",
  };
}

/** Where a falling score crosses a target between a bound and the value, by bisection. */
function crossing(
  score: (delta: number) => number,
  target: number,
  bound: number,
  value: number,
): number {
  let outside = bound;
  let inside = value;
  for (let i = 0; i < 100; i++) {
    const middle = (outside + inside) / 2;
    if (Math.abs(score(middle)) > Math.abs(target)) outside = middle;
    else inside = middle;
  }
  return (outside + inside) / 2;
}
