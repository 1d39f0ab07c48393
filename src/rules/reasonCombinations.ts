import type { RuleDecisions } from "./ruleDecisions.js";
import type { RuleCriterion } from "./types.js";

/** Children referred for exactly these criteria. */
export interface ReasonCombination {
  readonly reasons: readonly RuleCriterion[];
  readonly children: number;
}

/**
 * Referred children by the combination of criteria that refer them, most frequent first; each child
 * is in one combination. These are exact counts: `referralReasonsFigure` draws them and pools small ones.
 *
 * @example
 * const eye = { sphere: Float64Array.of(5), cylinder: Float64Array.of(-2), axis: Float64Array.of(180) };
 * const columns = { kind: "rule-columns", n: 1, right: eye, left: eye };
 * reasonCombinations(applyRule(publishedRules["abnormal-refraction-bjo"], columns)) // => [{ reasons: ["hyperopia", "astigmatism"], children: 1 }]
 */
export function reasonCombinations(decided: RuleDecisions): ReasonCombination[] {
  const { crossed, criteria, decision } = decided;
  const counts = new Map<number, number>();
  for (let child = 0; child < crossed.length; child++) {
    if (decision.codes[child] !== 1) continue;
    counts.set(crossed[child], (counts.get(crossed[child]) ?? 0) + 1);
  }
  return [...counts]
    .map(([bits, children]) => ({
      reasons: criteria.filter((_, bit) => ((bits >> bit) & 1) === 1),
      children,
    }))
    .sort((a, b) => b.children - a.children || (a.reasons.join() < b.reasons.join() ? -1 : 1));
}
