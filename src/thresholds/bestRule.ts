import { InputError, type Undefined, undefinedBecause } from "../results/index.js";
import { type RulePoint, ratesAlong, rulePoint } from "./paretoFront.js";
import type { RuleSpace } from "./ruleSpace.js";

/** What a programme demands of its rule. */
export interface RuleConstraints {
  readonly minSpecificity?: number;
  readonly minSensitivity?: number;
  /** Share of all children, with and without the condition, that may be referred. */
  readonly maxReferralRate?: number;
  /** Highest limit allowed of a criterion, so that a value at or above it is always referred. */
  readonly limitAtMost?: { readonly [criterion: string]: number };
}

export interface BestRule extends RulePoint {
  readonly kind: "bestRule";
  readonly n: number;
  readonly rules: number;
  readonly constraints: RuleConstraints;
  readonly referralRate: number;
}

/**
 * The rule of highest sensitivity under constraints; ties go to the higher specificity, then to the
 * lowest limits in the order of the criteria.
 *
 * Performance read off the data that chose the rule is optimistic; `searchRules` corrects it.
 *
 * @param space from `ruleSpace`
 * @param constraints proportions; none means the most sensitive rule of all
 * @returns undefined with a reason when no rule meets the constraints
 * @throws when a constraint is not a proportion or names no criterion
 */
export function bestRule(
  space: RuleSpace,
  constraints: RuleConstraints = {},
): BestRule | Undefined {
  requireConstraints(space, constraints);
  const { misses, spared } = ratesAlong(space, "bestRule");
  const admits = admission(space, constraints);
  let best = -1;
  for (let rule = 0; rule < misses.length; rule++) {
    if (best >= 0) {
      if (misses[rule] > misses[best]) continue;
      if (misses[rule] === misses[best] && spared[rule] <= spared[best]) continue;
    }
    if (admits(rule)) best = rule;
  }
  if (best < 0) return undefinedBecause("no rule of the grid meets the constraints");
  const point = rulePoint(space, best);
  const { truePositive, falsePositive, falseNegative, trueNegative } = point.table;
  const referred = truePositive + falsePositive;
  return {
    kind: "bestRule",
    n: space.n,
    rules: space.rules,
    constraints,
    ...point,
    referralRate: referred / (referred + falseNegative + trueNegative),
  };
}

function admission(space: RuleSpace, constraints: RuleConstraints): (rule: number) => boolean {
  const {
    minSpecificity = 0,
    minSensitivity = 0,
    maxReferralRate = 1,
    limitAtMost = {},
  } = constraints;
  const { withCondition: sick, withoutCondition: healthy } = space;
  const strides: { stride: number; size: number; highest: number }[] = [];
  let stride = space.rules;
  for (const criterion of space.criteria) {
    const axis = space.limits[criterion];
    stride /= axis.length;
    if (limitAtMost[criterion] === undefined) continue;
    const allowed = axis.filter(
      (limit) => limit !== null && limit <= limitAtMost[criterion],
    ).length;
    strides.push({ stride, size: axis.length, highest: allowed });
  }
  return (rule) => {
    const sickDecided = sick.total - (sick.undecidable?.[rule] ?? 0);
    const healthyDecided = healthy.total - (healthy.undecidable?.[rule] ?? 0);
    const referred = sickDecided - sick.passed[rule] + (healthyDecided - healthy.passed[rule]);
    return (
      sickDecided > 0 &&
      healthyDecided > 0 &&
      healthy.passed[rule] >= minSpecificity * healthyDecided &&
      sickDecided - sick.passed[rule] >= minSensitivity * sickDecided &&
      referred <= maxReferralRate * (sickDecided + healthyDecided) &&
      strides.every((axis) => Math.floor(rule / axis.stride) % axis.size < axis.highest)
    );
  };
}

function requireConstraints(space: RuleSpace, constraints: RuleConstraints): void {
  for (const key of ["minSpecificity", "minSensitivity", "maxReferralRate"] as const) {
    const value = constraints[key];
    if (value !== undefined && !(value >= 0 && value <= 1)) {
      throw new InputError(`bestRule requires ${key} between 0 and 1, got ${value}`);
    }
  }
  for (const criterion of Object.keys(constraints.limitAtMost ?? {})) {
    if (!space.criteria.includes(criterion)) {
      throw new InputError(
        `bestRule requires limitAtMost of ${space.criteria.join(", ")}, got ${criterion}`,
      );
    }
  }
}
