import type { Cohort } from "../cohort/index.js";
import { applyToChild } from "./applyToChild.js";
import { decideColumns } from "./columns/decideColumns.js";
import { type RuleColumns, ruleColumns } from "./columns/ruleColumns.js";
import { prepareRule } from "./prepareRule.js";
import type { RuleDecisions } from "./ruleDecisions.js";
import type { ReferralRule, RuleChild, RuleDecision } from "./types.js";

/**
 * Whether a rule refers a child, with every reason: criterion, eye, value, limit and margin; or a
 * whole cohort, as columns in the order of its children.
 *
 * Three-valued: one limit crossed is "refer" even where the other eye is unreadable; nothing crossed
 * with something missing is "undecidable", with what was missing; anisometropia needs both eyes. A
 * power above or below the instrument's range is beyond every limit on that side. An age outside all
 * bands is "undecidable" for "no-band"; an age known in whole years only is decided where all its
 * bands agree. Values are compared after rounding to 0.001 (halves away from zero); children exactly at a
 * limit, and within a month of a band's edge, are counted.
 *
 * @param rule from `defineRule`; one read back from a saved result is checked again
 * @param child one child, or a cohort (its readings or its findings, as the rule says), or columns
 * @throws when the rule is not valid, or a prescription is beyond what a lens can be
 *
 * @example
 * const rule = defineRule({ kind: "rule", id: "plus", title: "Plus", definition: "own", appliesTo: "reading", referWhen: [{ criterion: "hyperopia", quantity: "mostPositiveMeridian", eye: "either", relation: ">", limit: 3.5 }] });
 * applyRule(rule, { right: { sphere: 3, cylinder: 1, axis: 90 }, left: null }).decision // => "refer"
 * applyRule(rule, { right: { sphere: 3.5, cylinder: -1, axis: 90 }, left: null }).decision // => "undecidable"
 */
export function applyRule(rule: ReferralRule, child: RuleChild): RuleDecision;
export function applyRule(rule: ReferralRule, children: Cohort | RuleColumns): RuleDecisions;
export function applyRule(
  rule: ReferralRule,
  children: RuleChild | Cohort | RuleColumns,
): RuleDecision | RuleDecisions {
  const compiled = prepareRule("applyRule", rule);
  if (!("kind" in children)) return applyToChild(compiled, children);
  if (children.kind === "rule-columns") return decideColumns(compiled, children);
  return decideColumns(compiled, ruleColumns(children, compiled.rule.appliesTo));
}
