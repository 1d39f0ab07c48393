import { applyToChild } from "./applyToChild.js";
import { prepareRule } from "./prepareRule.js";
import type { ReferralRule, RuleChild, RuleDecision } from "./types.js";

/**
 * Whether a rule refers a child, with every reason: criterion, eye, value, limit and margin.
 *
 * Three-valued: one limit crossed is "refer" even where the other eye is unreadable; nothing crossed
 * with something missing is "undecidable", with what was missing; anisometropia needs both eyes. An
 * age outside all bands is "undecidable" for "no-band"; an age known in whole years only is decided
 * where all its bands agree. Values are compared after rounding to 0.001 (halves upwards).
 *
 * @throws when the rule is not valid, or a prescription is beyond what a lens can be
 *
 * @example
 * const rule = defineRule({ kind: "rule", id: "plus", title: "Plus", definition: "own", appliesTo: "reading", referWhen: [{ criterion: "hyperopia", quantity: "mostPositiveMeridian", eye: "either", relation: ">", limit: 3.5 }] });
 * applyRule(rule, { right: { sphere: 3, cylinder: 1, axis: 90 }, left: null }).decision // => "refer"
 * applyRule(rule, { right: { sphere: 3.5, cylinder: -1, axis: 90 }, left: null }).decision // => "undecidable"
 */
export function applyRule(rule: ReferralRule, child: RuleChild): RuleDecision {
  return applyToChild(prepareRule("applyRule", rule), child);
}
