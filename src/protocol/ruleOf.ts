import { InputError } from "../results/index.js";
import { completeRule, publishedRules, type ReferralRule } from "../rules/index.js";
import { isLimit, type ProtocolSide } from "./sideSchema.js";

/**
 * The rule of a side of a condition, with what a published definition leaves open filled in; null
 * for a limit on one variable. A published definition is one of exam findings: as a referral rule its
 * limits are taken over to the reading, which is the study's own choice and named so.
 *
 * @throws when the choices do not complete the definition
 */
export function ruleOf(
  side: ProtocolSide,
  appliesTo: ReferralRule["appliesTo"],
): ReferralRule | null {
  if (isLimit(side)) return null;
  if ("kind" in side) return side;
  const { published, choices } = side;
  const definition = publishedRules[published];
  if (definition.kind === "rule" && Object.keys(choices ?? {}).length > 0) {
    throw new InputError(
      `ruleOf requires no choices for "${published}", which leaves nothing open, got ${Object.keys(choices!).join(", ")}`,
    );
  }
  const rule = definition.kind === "rule" ? definition : completeRule(definition, { ...choices });
  if (appliesTo === "finding") return rule;
  return {
    ...rule,
    title: `${rule.title}, its limits on the reading`,
    definition: "own",
    citation: undefined,
    appliesTo,
    note: `Limits of a published definition of exam findings (${rule.citation}); that they refer by the reading is this study's own choice.`,
  };
}
