import type { Cohort } from "../../cohort/index.js";
import { type ProtocolCondition, ruleOf } from "../../protocol/index.js";
import { referredOf } from "../../rows/index.js";
import { applyRule, type ReferralRule, type RuleDecisions } from "../../rules/index.js";
import type { LimitTest, UndecidedByAge } from "./decided.js";
import { screenedCohort } from "./screenedCohort.js";

/** A rule, and what it says of every screened child. */
interface DecidedRule {
  readonly rule: ReferralRule;
  readonly decisions: RuleDecisions;
}

/** The rules of a condition on the screened children; a side without a rule is null. */
export interface RuleSides {
  readonly refer: DecidedRule | null;
  readonly condition: DecidedRule | null;
  readonly screened: Cohort;
  /** Where a child stands in `screened`; -1 for one who was not. */
  readonly placeOf: Int32Array;
  /** What the referral rule says of a child; null for one who was not screened. */
  readonly testOf: (child: number) => LimitTest | null;
  /** Whether the exam finds the condition; null where it does not say. */
  readonly conditionOf: (child: number) => boolean | null;
  /** Whether a rule cannot decide the child by its age. */
  readonly undecidedByAge: (child: number) => boolean;
  readonly leftOut: readonly UndecidedByAge[];
}

/** Applies the rules of a condition; null where both sides are limits on one variable. */
export function ruleSides(cohort: Cohort, condition: ProtocolCondition): RuleSides | null {
  const rules = {
    refer: ruleOf(condition.referWhen, "reading"),
    condition: ruleOf(condition.target, "finding"),
  };
  if (rules.refer === null && rules.condition === null) return null;
  const { cohort: screened, positions } = screenedCohort(cohort);
  const placeOf = new Int32Array(cohort.children.n).fill(-1);
  positions.forEach((child, place) => {
    placeOf[child] = place;
  });
  const decide = (rule: ReferralRule | null): DecidedRule | null =>
    rule === null ? null : { rule, decisions: applyRule(rule, screened) };
  const sides = { refer: decide(rules.refer), condition: decide(rules.condition) };
  const ageCause = (side: DecidedRule | null, place: number) => {
    if (side === null) return null;
    const { codes, labels } = side.decisions.cause;
    const cause = labels[codes[place]];
    return cause === "decided" || cause === "missing-value" ? null : cause;
  };
  const codeOf = ({ decisions }: DecidedRule, child: number) =>
    decisions.decision.labels[decisions.decision.codes[placeOf[child]]];
  return {
    ...sides,
    screened,
    placeOf,
    testOf: (child) => {
      if (placeOf[child] < 0) return null;
      return { test: referredOf(codeOf(sides.refer!, child)), value: Number.NaN };
    },
    conditionOf: (child) => {
      const code = codeOf(sides.condition!, child);
      return code === "undecidable" ? null : code === "refer";
    },
    undecidedByAge: (child) =>
      (ageCause(sides.refer, placeOf[child]) ?? ageCause(sides.condition, placeOf[child])) !== null,
    leftOut: countedByAge(),
  };

  /** Each child once, by the reading's rule first. */
  function countedByAge(): UndecidedByAge[] {
    const counts = new Map<string, UndecidedByAge>();
    for (let place = 0; place < screened.children.n; place++) {
      const byReading = ageCause(sides.refer, place);
      const cause = byReading ?? ageCause(sides.condition, place);
      if (cause === null) continue;
      const by = byReading === null ? "finding" : "reading";
      const key = `${by} ${cause}`;
      counts.set(key, { by, cause, children: (counts.get(key)?.children ?? 0) + 1 });
    }
    return [...counts.values()].sort((a, b) => (a.by + a.cause < b.by + b.cause ? -1 : 1));
  }
}
