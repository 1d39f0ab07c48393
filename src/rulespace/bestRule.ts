import { formerNames, InputError, type Undefined, undefinedBecause } from "../results/index.js";
import { chooseOnGrid, type GridChoice } from "./chooseOnGrid.js";
import { type RulePoint, requireBothClasses, rulePoint } from "./paretoFront.js";
import { limitsOfRule, tableOfRule } from "./ruleAt.js";
import { type RuleGoal, requireGoal } from "./ruleGoal.js";
import { gridOf } from "./ruleGrid.js";
import type { RuleSpace } from "./ruleSpace.js";

/** What a programme demands of its rule. */
export interface RuleConstraints {
  /** What the rule is best at: "sensitivity" (default), "youden" or `{ leastCost }`. */
  readonly goal?: RuleGoal;
  readonly specificityAtLeast?: number;
  readonly sensitivityAtLeast?: number;
  /** Share of all children, with and without the condition, that may be referred. */
  readonly referralRateAtMost?: number;
  /** Highest limit allowed of a criterion, so that a value at or above it is always referred. */
  readonly limitAtMost?: { readonly [criterion: string]: number };
}

/** The rule that a space holds best under constraints. */
export interface BestRule extends RulePoint {
  readonly kind: "best-rule";
  readonly n: number;
  readonly ruleCount: number;
  readonly constraints: RuleConstraints;
}

/** No rule meets the constraints; the reason says so. */
export interface NoRule extends Undefined {
  readonly limits?: undefined;
  readonly table?: undefined;
  readonly sensitivity?: undefined;
  readonly specificity?: undefined;
  readonly referralRate?: undefined;
}

/**
 * The rule of highest sensitivity (or Youden index, or least cost) under constraints; ties go to the
 * higher sensitivity, the higher specificity, then the lowest limits in the order of the criteria.
 *
 * `limitAtMost: { anisometropia: 2 }` never misses an anisometropia of 2 D or more; for "above 2 D"
 * give the next step of the grid. Performance read off the data that chose the rule is optimistic;
 * `searchRules` corrects it.
 *
 * @param space from `ruleSpace`
 * @param constraints proportions; none means the most sensitive rule of all
 * @returns undefined with a reason when no rule meets the constraints
 * @throws when a constraint is not a proportion or names no criterion
 *
 * @example
 * bestRule(ruleSpace({ measures: { sphere: [1, 2, 3, 4] }, condition: [0, 1, 0, 1], limits: { sphere: [2, 4] } }), { specificityAtLeast: 0.9 }).limits // => { sphere: 4 }
 */
export function bestRule(space: RuleSpace, constraints: RuleConstraints = {}): BestRule | NoRule {
  constraints = formerNames("bestRule", constraints, "constraints");
  const choice = choiceOf("bestRule", space.criteria, space.limits, constraints);
  requireBothClasses("bestRule", space);
  const best = chooseOnGrid(gridOf(space), choice);
  if (best < 0) return undefinedBecause("no rule of the grid meets the constraints");
  return {
    kind: "best-rule",
    n: space.n,
    ruleCount: space.ruleCount,
    constraints,
    ...rulePoint(limitsOfRule(space, best), tableOfRule(space, best)),
  };
}

/** Checks constraints and writes them in places on the axes. */
export function choiceOf(
  caller: string,
  criteria: readonly string[],
  limits: RuleSpace["limits"],
  constraints: RuleConstraints,
): GridChoice {
  for (const key of ["specificityAtLeast", "sensitivityAtLeast", "referralRateAtMost"] as const) {
    const value = constraints[key];
    if (value !== undefined && !(value >= 0 && value <= 1)) {
      throw new InputError(`${caller} requires ${key} between 0 and 1, got ${value}`);
    }
  }
  const { limitAtMost = {}, goal = "sensitivity" } = constraints;
  requireGoal(caller, goal);
  for (const criterion of Object.keys(limitAtMost)) {
    if (!criteria.includes(criterion)) {
      throw new InputError(
        `${caller} requires limitAtMost of ${criteria.join(", ")}, got ${criterion}`,
      );
    }
  }
  return {
    goal,
    specificityAtLeast: constraints.specificityAtLeast ?? 0,
    sensitivityAtLeast: constraints.sensitivityAtLeast ?? 0,
    referralRateAtMost: constraints.referralRateAtMost ?? 1,
    allowed: criteria.map((criterion) => {
      const highest = limitAtMost[criterion];
      const axis = limits[criterion];
      if (highest === undefined) return axis.length;
      return axis.filter((limit) => limit !== null && limit <= highest).length;
    }),
  };
}
