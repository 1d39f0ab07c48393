import type { Cohort } from "../cohort/index.js";
import { InputError } from "../results/index.js";
import type { Decision } from "../rows/index.js";
import { applyRule } from "./applyRule.js";
import { decisions, type RuleDecisions, undecidableCauses } from "./ruleDecisions.js";
import type { ReferralRule } from "./types.js";

/** Children left out of the rows, for one reason. */
export interface LeftOut {
  readonly reason: "age-undecidable" | "not-examined" | "condition-undecidable";
  readonly children: number;
}

/** A referral rule and a target condition on the same children. */
export interface CohortDecisions {
  readonly kind: "cohort-decisions";
  /** The rule on the readings, for all children. */
  readonly test: RuleDecisions;
  /** The condition on the findings, for all children; those not examined are undecidable. */
  readonly reference: RuleDecisions;
  /** Rows that enter a table, and what they hold. */
  readonly n: number;
  /** Position of each row's child in `cohort.children`. */
  readonly subjects: Int32Array;
  /** For `crossClassify`, which then asks how "undecidable" is counted. */
  readonly decision: readonly Decision[];
  readonly condition: readonly boolean[];
  /** In the order in which they are looked for; with the rows they add up to all children. */
  readonly leftOut: readonly LeftOut[];
}

/**
 * A referral rule on the readings and a target condition on the findings of a cohort, child by
 * child. Undecidable readings stay among the rows, for the analysis to say how they count, except
 * those undecidable by age (no band, several that disagree, no age), who are left out and counted;
 * so is a child without an exam, and one whose exam does not decide the condition.
 *
 * @throws when a rule is not valid, or does not apply to what it is given for
 *
 * @example
 * const eye = { subject: "a", eye: "OD", sphere: 4, cylinder: 0, axis: 180 };
 * const cohort = linkCohort({ readings: await readReadings([eye]), findings: await readFindings([eye]) });
 * const condition = completeRule(publishedRules["exam-failure-2001"], { hyperopiaQuantity: "M", myopiaQuantity: "M", anisometropiaQuantity: "M" });
 * decideCohort(cohort, { refer: { ...condition, appliesTo: "reading" }, condition }).decision // => ["refer"]
 */
export function decideCohort(
  cohort: Cohort,
  rules: { readonly refer: ReferralRule; readonly condition: ReferralRule },
): CohortDecisions {
  requireSource("refer", rules.refer, "reading");
  requireSource("condition", rules.condition, "finding");
  const test = applyRule(rules.refer, cohort);
  const reference = applyRule(rules.condition, cohort);
  const { findingRow, n } = cohort.children;
  const missingValue = undecidableCauses.indexOf("missing-value");
  const left = { age: 0, notExamined: 0, undecidable: 0 };
  const rows: number[] = [];
  for (let child = 0; child < n; child++) {
    if (test.cause.codes[child] > missingValue || reference.cause.codes[child] > missingValue) {
      left.age++;
    } else if (findingRow.right[child] < 0 && findingRow.left[child] < 0) left.notExamined++;
    else if (reference.decision.codes[child] === 2) left.undecidable++;
    else rows.push(child);
  }
  return {
    kind: "cohort-decisions",
    test,
    reference,
    n: rows.length,
    subjects: Int32Array.from(rows),
    decision: rows.map((child) => decisions[test.decision.codes[child]]),
    condition: rows.map((child) => reference.decision.codes[child] === 1),
    leftOut: [
      { reason: "age-undecidable", children: left.age },
      { reason: "not-examined", children: left.notExamined },
      { reason: "condition-undecidable", children: left.undecidable },
    ],
  };
}

function requireSource(name: string, rule: ReferralRule, wanted: ReferralRule["appliesTo"]): void {
  if (rule?.appliesTo !== wanted) {
    throw new InputError(
      `decideCohort requires ${name} to apply to a ${wanted}, got ${rule?.appliesTo ?? "none"}`,
    );
  }
}
