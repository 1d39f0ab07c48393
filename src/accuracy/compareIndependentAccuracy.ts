import type { TwoByTwo } from "../results/index.js";
import {
  compareIndependentProportions,
  type IndependentProportions,
} from "./compareIndependentProportions.js";
import { requireTable } from "./requireTable.js";

/** Accuracy in two different groups of children; differences are first minus second. */
export interface IndependentAccuracy {
  readonly kind: "independent-accuracy";
  readonly level: number;
  readonly sensitivity: IndependentProportions;
  readonly specificity: IndependentProportions;
  readonly positivePredictiveValue: IndependentProportions;
  readonly negativePredictiveValue: IndependentProportions;
}

/**
 * Compares two tables from different children, each child counted once.
 *
 * @throws when a count is negative or not whole
 *
 * @example
 * compareIndependentAccuracy({ first: { truePositive: 56, falsePositive: 5, falseNegative: 14, trueNegative: 95 }, second: { truePositive: 48, falsePositive: 9, falseNegative: 32, trueNegative: 91 } }).sensitivity.difference.high // => 0.3339
 */
export function compareIndependentAccuracy(
  tables: { readonly first: TwoByTwo; readonly second: TwoByTwo },
  options: { readonly level?: number } = {},
): IndependentAccuracy {
  const first = requireTable("compareIndependentAccuracy", tables.first);
  const second = requireTable("compareIndependentAccuracy", tables.second);
  const compare = (right: keyof TwoByTwo, wrong: keyof TwoByTwo) => {
    const of = (table: TwoByTwo) => ({
      successes: table[right],
      trials: table[right] + table[wrong],
    });
    return compareIndependentProportions({ first: of(first), second: of(second) }, options);
  };
  return {
    kind: "independent-accuracy",
    level: options.level ?? 0.95,
    sensitivity: compare("truePositive", "falseNegative"),
    specificity: compare("trueNegative", "falsePositive"),
    positivePredictiveValue: compare("truePositive", "falsePositive"),
    negativePredictiveValue: compare("trueNegative", "falseNegative"),
  };
}
