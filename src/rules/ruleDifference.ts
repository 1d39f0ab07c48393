import type { Cohort } from "../cohort/index.js";
import type { Decision } from "../rows/index.js";
import { applyRule } from "./applyRule.js";
import type { RuleColumns } from "./columns/ruleColumns.js";
import type { CompiledRule } from "./compileRule.js";
import { prepareRule } from "./prepareRule.js";
import { decisions } from "./ruleDecisions.js";
import { bandText, limitText } from "./ruleText.js";
import type { ReferralRule } from "./types.js";

export interface StatedLimit {
  readonly band: string;
  readonly words: string;
}

/** Children with one pair of decisions. */
export interface DecisionPair {
  readonly first: Decision;
  readonly second: Decision;
  readonly children: number;
}

/** Where two rules differ: in their limits, and in the children they decide on. */
export interface RuleDifference {
  readonly kind: "rule-difference";
  readonly first: string;
  readonly second: string;
  readonly inBoth: readonly StatedLimit[];
  readonly onlyFirst: readonly StatedLimit[];
  readonly onlySecond: readonly StatedLimit[];
  /** Nine pairs; null without children. */
  readonly decisions: readonly DecisionPair[] | null;
  readonly n: number | null;
  /** Children whom the two rules treat differently. */
  readonly changed: number | null;
}

/**
 * What two rules differ in: the limits that only one of them states, by age band, and, with children,
 * how many of them are decided otherwise. A limit under "not" is marked so; how limits are combined
 * is for `explainRule` to show.
 *
 * @param children a cohort (each rule reads what it applies to) or columns
 * @throws when a rule is not valid
 *
 * @example
 * const strict = { ...publishedRules["abnormal-refraction-bjo"], id: "strict", definition: "own", referWhen: [{ criterion: "hyperopia", quantity: "sphere", eye: "worse", relation: ">", limit: 4 }] };
 * ruleDifference(publishedRules["abnormal-refraction-bjo"], strict).onlySecond[0].words // => "hyperopia: sphere (minus-cylinder form) > +4.00 D in the worse eye"
 */
export function ruleDifference(
  first: ReferralRule,
  second: ReferralRule,
  children?: Cohort | RuleColumns,
): RuleDifference {
  const one = statedLimits(prepareRule("ruleDifference", first));
  const other = statedLimits(prepareRule("ruleDifference", second));
  const has = (list: readonly StatedLimit[], { band, words }: StatedLimit) =>
    list.some((limit) => limit.band === band && limit.words === words);
  const pairs = children === undefined ? null : pairsOf(first, second, children);
  return {
    kind: "rule-difference",
    first: first.id,
    second: second.id,
    inBoth: one.filter((limit) => has(other, limit)),
    onlyFirst: one.filter((limit) => !has(other, limit)),
    onlySecond: other.filter((limit) => !has(one, limit)),
    decisions: pairs,
    n: pairs === null ? null : sum(pairs),
    changed: pairs === null ? null : sum(pairs.filter((pair) => pair.first !== pair.second)),
  };
}

function statedLimits({ rule, bands, leaves }: CompiledRule): StatedLimit[] {
  const stated: StatedLimit[] = [];
  for (const [at, { tree }] of bands.entries()) {
    const band = bandText(rule.bands?.[at].ageMonths ?? null);
    const visit = (node: typeof tree): void => {
      if (node.op !== "limit") {
        node.members.forEach(visit);
        return;
      }
      const { limit, negated } = leaves[node.leaf];
      stated.push({ band, words: `${negated ? "not " : ""}${limitText(limit)}` });
    };
    visit(tree);
  }
  return stated;
}

function pairsOf(
  first: ReferralRule,
  second: ReferralRule,
  children: Cohort | RuleColumns,
): DecisionPair[] {
  const one = applyRule(first, children).decision.codes;
  const other = applyRule(second, children).decision.codes;
  const counts = new Float64Array(9);
  for (let child = 0; child < one.length; child++) counts[one[child] * 3 + other[child]]++;
  return decisions.flatMap((decision, row) =>
    decisions.map((against, column) => ({
      first: decision,
      second: against,
      children: counts[row * 3 + column],
    })),
  );
}

function sum(pairs: readonly DecisionPair[]): number {
  return pairs.reduce((total, { children }) => total + children, 0);
}
