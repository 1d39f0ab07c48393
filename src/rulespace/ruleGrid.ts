import type { RuleCounts, RuleSpace } from "./ruleSpace.js";

/** Counts of both classes over a grid, without the names and limits of its axes. */
export interface GridCounts {
  readonly sizes: readonly number[];
  readonly rules: number;
  readonly withCondition: RuleCounts;
  readonly withoutCondition: RuleCounts;
}

export function gridOf(space: RuleSpace): GridCounts {
  const { ruleCount: rules, withCondition, withoutCondition } = space;
  const sizes = space.criteria.map((criterion) => space.limits[criterion].length);
  return { sizes, rules, withCondition, withoutCondition };
}

/** Shares of one rule; NaN where a class has none decided. */
export function ratesOnGrid(
  { withCondition, withoutCondition }: GridCounts,
  rule: number,
): { readonly missed: number; readonly spared: number } {
  return { missed: passedShare(withCondition, rule), spared: passedShare(withoutCondition, rule) };
}

function passedShare({ total, passed, undecidable }: RuleCounts, rule: number): number {
  // sums of weights differ from their total by rounding
  const share = passed[rule] / (total - (undecidable?.[rule] ?? 0));
  return share > 1 - 1e-12 ? 1 : share;
}
