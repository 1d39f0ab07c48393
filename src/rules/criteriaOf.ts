import { isList } from "./isList.js";
import type { Expression, ReferralRule, RuleLimit } from "./types.js";

/** The criteria that an expression of a rule names, in the order of first mention. */
export function criteriaOf(expression: Expression, rule: ReferralRule): RuleLimit["criterion"][] {
  const found = new Set<RuleLimit["criterion"]>();
  const visit = (part: Expression): void => {
    if (isList(part)) part.forEach(visit);
    else if ("anyOf" in part) part.anyOf.forEach(visit);
    else if ("allOf" in part) part.allOf.forEach(visit);
    else if ("not" in part) visit(part.not);
    else if ("subRule" in part) visit(rule.subRules![part.subRule]);
    else found.add((part as RuleLimit).criterion);
  };
  visit(expression);
  return [...found];
}
