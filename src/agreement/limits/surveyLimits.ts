import {
  designOf,
  designVariance,
  designWords,
  noInterval,
  requireLevel,
  type SurveyDesign,
  tEstimate,
} from "../../inference/index.js";
import { type Estimate, type Undefined, undefinedBecause } from "../../results/index.js";
import { requireNumbers } from "../../rows/index.js";
import { requireMultiplier } from "./limitOptions.js";

/** Weighted limits of agreement of a survey with strata and sampling units. */
export interface SurveyLimits {
  readonly kind: "survey-limits";
  readonly n: number;
  readonly weight: number;
  readonly strata: number;
  readonly units: number;
  readonly df: number;
  readonly level: number;
  readonly multiplier: number;
  readonly direction: "test-minus-reference";
  readonly bias: Estimate | Undefined;
  /** Weighted SD of the differences. */
  readonly sd: Estimate | Undefined;
  readonly lower: Estimate | Undefined;
  readonly upper: Estimate | Undefined;
  readonly assumes: "normal differences";
}

/**
 * Limits of agreement of the population that a survey stands for: weighted bias and SD of test minus
 * reference, and the bias ± multiplier SD, right if the differences are normal. Intervals by Taylor
 * linearisation of each of them, Student's t with units minus strata degrees of freedom (see
 * `surveyMean`). `weightedLimits` is for weights that come from who was examined.
 *
 * Undefined where a stratum has one unit only, or the differences do not vary.
 *
 * Test and reference are in one unit, dioptres as a rule, and so are the results.
 *
 * @throws InputError when columns differ in length, a weight is negative or a value of the domain not finite
 *
 * @example
 * surveyLimits({ test: [1, 2, 4, 6], reference: [1, 1, 3, 4], weights: [1, 1, 2, 2], units: ["a", "b", "c", "d"] }).bias.value // => 1.1667
 */
export function surveyLimits(
  data: SurveyDesign & {
    readonly test: ArrayLike<number>;
    readonly reference: ArrayLike<number>;
  },
  options: {
    readonly level?: number;
    readonly coverage?: number;
    readonly multiplier?: number;
  } = {},
): SurveyLimits {
  const caller = "surveyLimits";
  const { test, reference } = data;
  const design = designOf(caller, data, { test, reference });
  for (const [name, values] of Object.entries({ test, reference })) {
    requireNumbers(caller, name, values, design.rows, { only: design.inDomain });
  }
  const level = requireLevel(caller, options.level ?? 0.95);
  const multiplier = requireMultiplier(options);
  const words = designWords(design, level);
  const shared = {
    kind: "survey-limits",
    ...words,
    multiplier,
    direction: "test-minus-reference",
    assumes: "normal differences",
  } as const;
  const none = noInterval(design);
  if (none !== null) {
    const reason = undefinedBecause(none);
    return { ...shared, bias: reason, sd: reason, lower: reason, upper: reason };
  }
  const { rows, weights, inDomain, weight } = design;
  const mean = (of: (row: number) => number): number => {
    let sum = 0;
    for (let row = 0; row < rows; row++) if (inDomain[row] === 1) sum += weights[row] * of(row);
    return sum / weight;
  };
  const bias = mean((row) => test[row] - reference[row]);
  const apart = (row: number) => test[row] - reference[row] - bias;
  const variance = mean((row) => apart(row) ** 2);
  const sd = Math.sqrt(variance);
  if (!(sd > 0)) {
    const reason = undefinedBecause("the differences do not vary");
    return { ...shared, bias: reason, sd: reason, lower: reason, upper: reason };
  }
  const ofSd = (row: number) => (apart(row) ** 2 - variance) / (2 * sd);
  const estimate = (value: number, derivative: (row: number) => number) =>
    tEstimate(value, Math.sqrt(designVariance(design, (row) => derivative(row) / weight)), {
      df: words.df,
      level,
      method: "taylor-t",
    });
  const limit = (sign: 1 | -1) =>
    estimate(bias + sign * multiplier * sd, (row) => apart(row) + sign * multiplier * ofSd(row));
  return {
    ...shared,
    bias: estimate(bias, apart),
    sd: estimate(sd, ofSd),
    lower: limit(-1),
    upper: limit(1),
  };
}
