import { InputError, type TwoByTwo } from "../results/index.js";
import { type RuleFront, type RulePoint, rulePoint } from "./paretoFront.js";

/** A rule from elsewhere beside the front of a grid. */
export interface PlacedRule extends Omit<RulePoint, "limits" | "cost"> {
  readonly name: string;
  /** The most sensitive rule of the front with at least this rule's specificity; null if none. */
  readonly frontRule: RulePoint | null;
  /** Sensitivity of that rule minus this one's: what the grid seems to gain, on the same rows. */
  readonly sensitivityGained: number | null;
}

/** Given rules on the front of a space: what they lose against it. */
export interface PlacedRules {
  readonly kind: "placed-rules";
  readonly n: number;
  readonly rules: readonly PlacedRule[];
  /** Says that the gain is that of a rule chosen on these rows. */
  readonly note: string;
}

/**
 * Places rules that are not of the grid (a published one, the one in use) beside a front, from their
 * 2x2 tables on the same rows. A rule may lie beyond the front, if the grid holds no rule like it.
 *
 * Rates are proportions, 0 to 1.
 *
 * @param rules tables by name, from `applyRule` and `crossClassify`
 * @throws when a table counts other numbers with or without the condition than the front does
 *
 * @example
 * placeRules(paretoFront(ruleSpace({ measures: { sphere: [1, 2, 3, 4] }, condition: [0, 1, 0, 1], limits: { sphere: [2, 4] } })), { "in use": { truePositive: 1, falsePositive: 1, falseNegative: 1, trueNegative: 1 } }).rules[0].sensitivityGained // => 0.5
 */
export function placeRules(
  front: RuleFront,
  rules: { readonly [name: string]: TwoByTwo },
): PlacedRules {
  const sizes = (table: TwoByTwo) => [
    table.truePositive + table.falseNegative,
    table.trueNegative + table.falsePositive,
  ];
  const own = front.points.length === 0 ? null : sizes(front.points[0].table);
  return {
    kind: "placed-rules",
    n: front.n,
    rules: Object.entries(rules).map(([name, table]) => {
      const theirs = sizes(table);
      if (own !== null && theirs.some((size, at) => Math.abs(size - own[at]) > 1e-6 * own[at])) {
        throw new InputError(
          `placeRules requires tables of the front's own rows (${own.join(" with, ")} without), got ${theirs.join(" and ")} for ${name}`,
        );
      }
      const { limits: _, ...point } = rulePoint({}, table);
      const better = front.points.filter(({ specificity }) => specificity >= point.specificity);
      const frontRule = better.reduce<RulePoint | null>(
        (best, other) => (best === null || other.sensitivity > best.sensitivity ? other : best),
        null,
      );
      return {
        name,
        ...point,
        frontRule,
        sensitivityGained: frontRule && frontRule.sensitivity - point.sensitivity,
      };
    }),
    note: "The front was searched on these rows, and a rule from elsewhere was not: part of the gain is luck.",
  };
}
