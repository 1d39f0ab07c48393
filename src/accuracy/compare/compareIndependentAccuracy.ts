import { moverDifference, requireLevel, twoSidedP } from "../../inference/index.js";
import {
  type Estimate,
  InputError,
  type TwoByTwo,
  type Undefined,
  undefinedBecause,
} from "../../results/index.js";
import type { ClusteredAccuracy } from "../clusteredAccuracy.js";
import { requireTable } from "../requireTable.js";
import {
  compareIndependentProportions,
  type IndependentProportions,
} from "./compareIndependentProportions.js";

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
 * Compares accuracy in two different groups of children.
 *
 * From two tables, each child counted once: Newcombe 1998 and the pooled z. From two results of
 * `clusteredAccuracy`, where a child may have two rows: square-and-add of their intervals (Zou and
 * Donner 2008) and z from their standard errors; a ratio is not given there.
 *
 * Rates are proportions, 0 to 1.
 *
 * @throws when a count is negative or not whole, or the two results have different levels
 *
 * @example
 * compareIndependentAccuracy({ first: { truePositive: 56, falsePositive: 5, falseNegative: 14, trueNegative: 95 }, second: { truePositive: 48, falsePositive: 9, falseNegative: 32, trueNegative: 91 } }).sensitivity.difference.high // => 0.3339
 */
export function compareIndependentAccuracy(
  groups:
    | { readonly first: TwoByTwo; readonly second: TwoByTwo }
    | { readonly first: ClusteredAccuracy; readonly second: ClusteredAccuracy },
  options: { readonly level?: number } = {},
): IndependentAccuracy {
  const caller = "compareIndependentAccuracy";
  const { first, second } = groups;
  if ("kind" in first && "kind" in second) {
    const level = options.level ?? first.level;
    if (first.level !== level || second.level !== level) {
      throw new InputError(
        `${caller} requires results of one level, got ${first.level}, ${second.level} and ${level}`,
      );
    }
    return measures(level, (name) => fromEstimates(first[name], second[name], level));
  }
  const level = requireLevel(caller, options.level ?? 0.95);
  requireTable(caller, first as TwoByTwo);
  requireTable(caller, second as TwoByTwo);
  return measures(level, (name) => {
    const [right, wrong] = cells[name];
    const of = (table: TwoByTwo) => ({
      successes: table[right],
      trials: table[right] + table[wrong],
    });
    return compareIndependentProportions(
      { first: of(first as TwoByTwo), second: of(second as TwoByTwo) },
      { level },
    );
  });
}

const cells = {
  sensitivity: ["truePositive", "falseNegative"],
  specificity: ["trueNegative", "falsePositive"],
  positivePredictiveValue: ["truePositive", "falsePositive"],
  negativePredictiveValue: ["trueNegative", "falseNegative"],
} as const;

function measures(
  level: number,
  compare: (name: keyof typeof cells) => IndependentProportions,
): IndependentAccuracy {
  return {
    kind: "independent-accuracy",
    level,
    sensitivity: compare("sensitivity"),
    specificity: compare("specificity"),
    positivePredictiveValue: compare("positivePredictiveValue"),
    negativePredictiveValue: compare("negativePredictiveValue"),
  };
}

function fromEstimates(
  first: Estimate | Undefined,
  second: Estimate | Undefined,
  level: number,
): IndependentProportions {
  const made = {
    kind: "independent-proportions",
    n: null,
    level,
    method: "mover-clustered",
  } as const;
  const missing = [first, second].find((rate) => rate.kind === "undefined");
  if (first.kind === "undefined" || second.kind === "undefined") {
    const none = undefinedBecause(missing?.reason ?? "one of the two is missing");
    return { ...made, difference: none, ratio: none, p: null };
  }
  const { value, low, high } = moverDifference(first, second);
  const se = Math.hypot(first.se ?? Number.NaN, second.se ?? Number.NaN);
  return {
    ...made,
    difference: { kind: "estimate", value, low, high, level, method: made.method },
    ratio: undefinedBecause("clustered rows: compare by the difference"),
    p: se > 0 ? twoSidedP(value / se) : null,
  };
}
