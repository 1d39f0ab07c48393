import type { Cohort, Eye } from "../cohort/index.js";
import { caution, type TableModel } from "../results/index.js";
import { applyToChild } from "./applyToChild.js";
import { childAt } from "./childAt.js";
import { ruleColumns } from "./columns/ruleColumns.js";
import { criteria } from "./criteria.js";
import { type CohortDecisions, decideCohort } from "./decideCohort.js";
import { prepareRule } from "./prepareRule.js";
import type { ReferralRule, RuleCriterion, RuleDecision } from "./types.js";

/** Children referred for one criterion (or passed, or undecidable) by what the exam found. */
export interface ReferredRow {
  readonly referredFor: RuleCriterion | "pass" | "undecidable";
  /** A child referred for two criteria is in two rows. */
  readonly children: number;
  /** In the order of `found`; a child with two findings is counted in two. */
  readonly found: readonly number[];
  /** With none of them. */
  readonly foundNothing: number;
  /** The same criterion found, but only in the eye for which the child was not referred. */
  readonly otherEye: number | null;
}

/** Children by what they were referred for and what was found. */
export interface ReferredAndFound {
  readonly kind: "referred-and-found";
  readonly n: number;
  readonly found: readonly RuleCriterion[];
  readonly rows: readonly ReferredRow[];
  readonly leftOut: CohortDecisions["leftOut"];
  readonly caution: string;
}

/**
 * "Referred for this, found that": for each criterion of a referral rule, what the exam found by a
 * target condition, and how often the right criterion was hit in the wrong eye (the reading crossed
 * in one eye only, the finding in the other only). Exact counts: suppress small ones before they
 * leave the team.
 *
 * @throws as `decideCohort`
 *
 * @example
 * const eye = { subject: "a", eye: "OD", sphere: 4, cylinder: 0, axis: 180 };
 * const cohort = linkCohort({ readings: await readReadings([eye]), findings: await readFindings([eye]) });
 * const condition = completeRule(publishedRules["exam-failure-2001"], { hyperopiaQuantity: "M", myopiaQuantity: "M", anisometropiaQuantity: "M" });
 * referredAndFound(cohort, { refer: { ...condition, appliesTo: "reading" }, condition }).rows[0] // => { referredFor: "hyperopia", children: 1, found: [1, 0, 0, 0], foundNothing: 0, otherEye: 0 }
 */
export function referredAndFound(
  cohort: Cohort,
  rules: { readonly refer: ReferralRule; readonly condition: ReferralRule },
): ReferredAndFound {
  const decided = decideCohort(cohort, rules);
  const { test, reference, subjects } = decided;
  const refer = prepareRule("referredAndFound", rules.refer);
  const condition = prepareRule("referredAndFound", rules.condition);
  const readings = ruleColumns(cohort, "reading");
  const findings = ruleColumns(cohort, "finding");
  const found = reference.criteria;
  const groups = [...test.criteria, "pass", "undecidable"] as const;
  const rows = groups.map(() => ({
    children: 0,
    found: found.map(() => 0),
    foundNothing: 0,
    otherEye: 0,
  }));
  for (const child of subjects) {
    const code = test.decision.codes[child];
    const positions =
      code === 1 ? bits(test.crossed[child]) : [test.criteria.length + (code === 0 ? 0 : 1)];
    for (const position of positions) {
      const row = rows[position];
      const hits = bits(reference.crossed[child]);
      row.children++;
      if (hits.length === 0) row.foundNothing++;
      for (const hit of hits) row.found[hit]++;
      const same = found.indexOf(groups[position] as RuleCriterion);
      if (code === 1 && hits.includes(same)) {
        const read = applyToChild(refer, childAt(readings, child));
        const seen = applyToChild(condition, childAt(findings, child));
        row.otherEye += Number(isOtherEye(found[same], read, seen));
      }
    }
  }
  return {
    kind: "referred-and-found",
    n: decided.n,
    found,
    rows: groups.map((referredFor, at) => {
      const both = found.includes(referredFor as RuleCriterion);
      return { referredFor, ...rows[at], otherEye: both ? rows[at].otherEye : null };
    }),
    leftOut: decided.leftOut,
    caution,
  };
}

/**
 * The same as a table to print.
 *
 * @param result from `referredAndFound`; counts are exact
 *
 * @example
 * const eye = { subject: "a", eye: "OD", sphere: 4, cylinder: 0, axis: 180 };
 * const cohort = linkCohort({ readings: await readReadings([eye]), findings: await readFindings([eye]) });
 * const condition = completeRule(publishedRules["exam-failure-2001"], { hyperopiaQuantity: "M", myopiaQuantity: "M", anisometropiaQuantity: "M" });
 * referredAndFoundTable(referredAndFound(cohort, { refer: { ...condition, appliesTo: "reading" }, condition })).rows[0].cells // => ["hyperopia", 1, 1, 0, 0, 0, 0, 0]
 */
export function referredAndFoundTable(result: ReferredAndFound): TableModel {
  const words = (name: ReferredRow["referredFor"]) =>
    name === "pass" || name === "undecidable" ? name : criteria[name].words;
  return {
    kind: "table",
    title: "What children were referred for, and what the exam found",
    columns: [
      { label: "Referred for", format: "text" },
      { label: "Children", format: "count" },
      ...result.found.map((name) => ({ label: `Found: ${words(name)}`, format: "count" as const })),
      { label: "None of these", format: "count" },
      { label: "In the other eye only", format: "count" },
    ],
    rows: result.rows.map(({ referredFor, children, found, foundNothing, otherEye }) => ({
      cells: [words(referredFor), children, ...found, foundNothing, otherEye],
    })),
    notes: [
      `Children with a decided exam, n = ${result.n}. A child with several reasons or findings is counted in each.`,
      ...result.leftOut
        .filter(({ children }) => children > 0)
        .map(({ reason, children }) => `Left out, ${leftOutWords[reason]}: ${children}.`),
      result.caution,
    ],
  };
}

const leftOutWords = {
  "age-undecidable": "undecidable by their age",
  "not-examined": "not examined",
  "condition-undecidable": "examined, but the condition not decided",
} as const;

function bits(mask: number): number[] {
  const positions: number[] = [];
  for (let bit = 0; mask >> bit !== 0; bit++) if ((mask >> bit) & 1) positions.push(bit);
  return positions;
}

function isOtherEye(criterion: RuleCriterion, read: RuleDecision, seen: RuleDecision): boolean {
  const eyes = ({ reasons }: RuleDecision): Set<Eye | "pair"> =>
    new Set(
      reasons.flatMap((reason) =>
        reason.kind === "crossed" && reason.criterion === criterion ? [reason.eye] : [],
      ),
    );
  const [one, other] = [eyes(read), eyes(seen)];
  if (one.has("pair") || other.has("pair") || one.size === 0 || other.size === 0) return false;
  return [...one].every((eye) => !other.has(eye));
}
