import { type ForAudience, InputError, jointAudience, type TwoByTwo } from "../results/index.js";
import { frontOnGrid } from "./frontOnGrid.js";
import { limitsOfRule, tableOfRule } from "./ruleAt.js";
import { costOf, type FrontAgainst, requireCosts } from "./ruleGoal.js";
import { gridOf } from "./ruleGrid.js";
import type { RuleSpace } from "./ruleSpace.js";

/** One rule with its table and rates; null in limits is "switched off". */
export interface RulePoint {
  readonly limits: { readonly [criterion: string]: number | null };
  readonly table: TwoByTwo;
  readonly sensitivity: number;
  readonly specificity: number;
  /** Share of all rows, those with and those without the condition, that is referred. */
  readonly referralRate: number;
  /** Per child screened; on a front of costs only. */
  readonly cost?: number;
}

/** The rules that no other rule beats in both sensitivity and what is set against it. */
export interface RuleFront extends ForAudience {
  readonly kind: "rule-front";
  readonly n: number;
  readonly ruleCount: number;
  readonly criteria: readonly string[];
  readonly against: FrontAgainst;
  /** By rising sensitivity, one rule for each distinct pair. */
  readonly points: readonly RulePoint[];
}

/**
 * The Pareto front of sensitivity against specificity, referral rate or cost over a rule space.
 *
 * The rules that no other beats in both; where several share both, the one with the lowest limits
 * in the order of the criteria stands for them. The referral rate counts children with and without
 * the condition; a cost is per child screened, at a stated prevalence. Rates are those of the very
 * rows: `searchRules` says how much of them is luck.
 *
 * Rates are proportions, 0 to 1.
 *
 * @param space from `ruleSpace`
 * @param options `against`: "specificity" (default), "referralRate" or `{ cost: { prevalence, costOfMiss, costOfFalseReferral } }`
 * @throws when the space has no child with, or none without, the condition, or costs are not positive
 *
 * @example
 * paretoFront(ruleSpace({ measures: { sphere: [1, 2, 3, 4] }, condition: [0, 1, 0, 1], limits: { sphere: [2, 4] } })).points.map((point) => point.sensitivity) // => [0.5, 1]
 */
export function paretoFront(
  space: RuleSpace,
  options: { readonly against?: FrontAgainst } = {},
): RuleFront {
  const { against = "specificity" } = options;
  requireBothClasses("paretoFront", space);
  requireAgainst("paretoFront", against);
  return {
    kind: "rule-front",
    ...jointAudience(space),
    n: space.n,
    ruleCount: space.ruleCount,
    criteria: space.criteria,
    against,
    points: frontOnGrid(gridOf(space), against).map((rule) =>
      rulePoint(limitsOfRule(space, rule), tableOfRule(space, rule), against),
    ),
  };
}

/** A rule of the space as plain data. */
export function rulePoint(
  limits: RulePoint["limits"],
  table: TwoByTwo,
  against: FrontAgainst = "specificity",
): RulePoint {
  const { truePositive, falsePositive, falseNegative, trueNegative } = table;
  const referred = truePositive + falsePositive;
  const sensitivity = truePositive / (truePositive + falseNegative);
  const specificity = trueNegative / (trueNegative + falsePositive);
  return {
    limits,
    table,
    sensitivity,
    specificity,
    referralRate: referred / (referred + falseNegative + trueNegative),
    ...(typeof against === "string"
      ? {}
      : { cost: costOf(against.cost)(1 - sensitivity, specificity) }),
  };
}

export function requireBothClasses(caller: string, space: RuleSpace): void {
  const { withCondition, withoutCondition } = space;
  if (withCondition.total > 0 && withoutCondition.total > 0) return;
  throw new InputError(
    `${caller} requires children with and without the condition, got ${withCondition.total} and ${withoutCondition.total}`,
  );
}

export function requireAgainst(caller: string, against: FrontAgainst): void {
  if (against === "specificity" || against === "referralRate") return;
  if (typeof against !== "object" || against.cost === undefined) {
    throw new InputError(
      `${caller} requires against: "specificity", "referralRate" or { cost }, got ${JSON.stringify(against)}`,
    );
  }
  requireCosts(caller, against.cost);
}
