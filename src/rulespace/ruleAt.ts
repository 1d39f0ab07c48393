import { didYouMean, InputError, type TwoByTwo } from "../results/index.js";
import { placesOf } from "./judgeRule.js";
import type { RuleCounts, RuleSpace } from "./ruleSpace.js";

/**
 * The 2x2 table of one rule of a space.
 *
 * Limits are in the units of their criteria, dioptres as a rule.
 *
 * @param space from `ruleSpace`
 * @param limits one number a criterion, each a limit of the grid; `Infinity` or null is "off"
 * @throws when a limit is not on the grid
 *
 * @example
 * ruleAt(ruleSpace({ measures: { sphere: [1, 2, 3, 4] }, condition: [0, 1, 0, 1], limits: { sphere: [2, 4] } }), { sphere: 4 }) // => { truePositive: 1, falsePositive: 0, falseNegative: 1, trueNegative: 2 }
 */
export function ruleAt(
  space: RuleSpace,
  limits: { readonly [criterion: string]: number | null },
): TwoByTwo {
  const strange = Object.keys(limits).find((name) => !space.criteria.includes(name));
  if (strange !== undefined) {
    throw new InputError(
      `ruleAt requires limits of the space's criteria, got "${strange}"; ${didYouMean(strange, space.criteria)}`,
    );
  }
  let rule = 0;
  for (const criterion of space.criteria) {
    const axis = space.limits[criterion];
    const wanted = limits[criterion] === Number.POSITIVE_INFINITY ? null : limits[criterion];
    const at = axis.indexOf(wanted as number | null);
    if (wanted === undefined || at < 0) {
      throw new InputError(
        `ruleAt requires a limit of ${criterion} on the grid, got ${wanted}; the grid has ${axis.slice(0, 12).join(", ")}${axis.length > 12 ? ", ..." : ""}`,
      );
    }
    rule = rule * axis.length + at;
  }
  return tableOfRule(space, rule);
}

/** The 2x2 table at a flat index of the space. */
export function tableOfRule(space: RuleSpace, rule: number): TwoByTwo {
  return tableAt(space, rule);
}

/** The same from the counts alone. */
export function tableAt(
  { withCondition, withoutCondition }: Pick<RuleSpace, "withCondition" | "withoutCondition">,
  rule: number,
): TwoByTwo {
  return {
    truePositive: referredOf(withCondition, rule),
    falsePositive: referredOf(withoutCondition, rule),
    falseNegative: withCondition.passed[rule],
    trueNegative: withoutCondition.passed[rule],
  };
}

/** Those neither passed nor undecidable; what rounding leaves of sums of weights counts as none. */
function referredOf({ total, passed, undecidable }: RuleCounts, rule: number): number {
  const referred = total - passed[rule] - (undecidable?.[rule] ?? 0);
  return referred < 1e-9 * total ? 0 : referred;
}

/** The limits at a flat index of the space; null is "off". */
export function limitsOfRule(
  space: RuleSpace,
  rule: number,
): { [criterion: string]: number | null } {
  return limitsAt(space.criteria, space.limits, rule);
}

/** The same from the axes alone. */
export function limitsAt(
  criteria: readonly string[],
  limits: RuleSpace["limits"],
  rule: number,
): { [criterion: string]: number | null } {
  const places = placesOf(
    rule,
    criteria.map((criterion) => limits[criterion].length),
  );
  return Object.fromEntries(
    criteria.map((criterion, axis) => [criterion, limits[criterion][places[axis]]]),
  );
}
