import { proportionInterval, requireLevel, standardisedEstimate } from "../inference/index.js";
import { type Estimate, InputError, type TwoByTwo, type Undefined } from "../results/index.js";
import { requireTable } from "./requireTable.js";

/** A group's counts and its weight in the population to which the result is carried. */
export interface WeightedGroup {
  readonly group: string;
  readonly table: TwoByTwo;
  /** Share, or number, of that population with the condition in this group. */
  readonly withCondition: number;
  /** Share, or number, without the condition in this group. */
  readonly withoutCondition: number;
}

/** Accuracy weighted to the groups of another population. */
export interface StandardisedAccuracy {
  readonly kind: "standardised-accuracy";
  readonly n: number;
  readonly level: number;
  readonly method: string;
  readonly groups: readonly string[];
  readonly sensitivity: Estimate | Undefined;
  readonly specificity: Estimate | Undefined;
}

/**
 * Direct standardisation: the sensitivity (specificity) of a population whose groups have stated
 * weights, each group keeping its own. Interval by square-and-add of the groups' Wilson limits.
 * Rows are taken as independent.
 *
 * Rates are proportions, 0 to 1.
 *
 * @param groups each with its counts, its weight and its name
 * @throws when counts are invalid, a weight is negative or not finite, or weights add up to 0
 *
 * @example
 * standardiseAccuracy([{ group: "3-4", table: { truePositive: 8, falsePositive: 10, falseNegative: 2, trueNegative: 90 }, withCondition: 1, withoutCondition: 1 }, { group: "5-6", table: { truePositive: 18, falsePositive: 5, falseNegative: 2, trueNegative: 95 }, withCondition: 3, withoutCondition: 1 }]).sensitivity.value // => 0.875
 */
export function standardiseAccuracy(
  groups: readonly WeightedGroup[],
  options: { readonly level?: number } = {},
): StandardisedAccuracy {
  const caller = "standardiseAccuracy";
  const { level = 0.95 } = options;
  requireLevel(caller, level);
  for (const { table } of groups) requireTable(caller, table);
  const side = (
    name: "withCondition" | "withoutCondition",
    right: keyof TwoByTwo,
    wrong: keyof TwoByTwo,
  ): Estimate | Undefined => {
    const strange = groups.find((group) => !(group[name] >= 0 && Number.isFinite(group[name])));
    const weights = groups.reduce((sum, group) => sum + group[name], 0);
    if (strange !== undefined || weights === 0) {
      throw new InputError(
        `${caller} requires weights ${name} of 0 or more that add up above 0, got ${groups.map((group) => group[name]).join(", ")}`,
      );
    }
    return standardisedEstimate(
      groups.map((group) => {
        const [successes, others] = [group.table[right], group.table[wrong]];
        const trials = successes + others;
        return {
          weight: group[name],
          estimate: proportionInterval({ successes, trials }, { level }),
        };
      }),
      {
        level,
        method: "mover-wilson",
        missing: (place) => `group ${groups[place].group} has a weight and no row`,
      },
    );
  };
  return {
    kind: "standardised-accuracy",
    n: groups.reduce((sum, { table }) => sum + Object.values(table).reduce((a, b) => a + b, 0), 0),
    level,
    method: "mover-wilson",
    groups: groups.map(({ group }) => group),
    sensitivity: side("withCondition", "truePositive", "falseNegative"),
    specificity: side("withoutCondition", "trueNegative", "falsePositive"),
  };
}
