import { mean, sampleStandardDeviation } from "simple-statistics";
import { type Estimate, InputError } from "../results/index.js";
import { requireNumbers } from "../rows/index.js";
import { requireLevel } from "./requireLevel.js";
import { tEstimate } from "./transformedEstimate.js";

/**
 * The mean with its two-sided interval by Student's t (1908): independent values; exact when they
 * are normal. It assumes independent rows: two eyes of one child are not.
 *
 * The values' unit, dioptres as a rule, is that of the mean and its interval.
 *
 * @param values at least two numbers; units are kept
 * @throws when there are fewer than two values, one is not finite, or the level is not between 0 and 1
 *
 * @example
 * meanInterval([1, 2, 3, 4]).high // => 4.5543
 */
export function meanInterval(
  values: ArrayLike<number>,
  options: { readonly level?: number } = {},
): Estimate {
  const { level = 0.95 } = options;
  requireLevel("meanInterval", level);
  if (values.length < 2) {
    throw new InputError(`meanInterval requires at least 2 values, got ${values.length}`);
  }
  const numbers = Array.from(values);
  requireNumbers("meanInterval", "values", numbers, numbers.length);
  const value = mean(numbers);
  const se = sampleStandardDeviation(numbers) / Math.sqrt(numbers.length);
  return tEstimate(value, se, { df: numbers.length - 1, level, method: "t" });
}
