// Referral rules and target conditions as data.

export { applyRule } from "./applyRule.js";
export { asPublished } from "./asPublished.js";
export {
  type CategorisedColumns,
  type CategorisedPerson,
  type CategoriseOptions,
  type CategoryColumn,
  type CategoryOfPerson,
  categorise,
} from "./categorise.js";
export { checkRule } from "./checkRule.js";
export { criteriaNotRecorded } from "./columns/criteriaNotRecorded.js";
export { type RuleColumns, type RuleEyeColumns, ruleColumns } from "./columns/ruleColumns.js";
export { variableValues } from "./columns/variableValues.js";
export {
  completeRule,
  type RuleTemplate,
  type TemplateChoice,
  type TemplateOption,
} from "./completeRule.js";
export { type ConditionOfRule, conditionsOfRule, type RuleVariable } from "./conditionsOfRule.js";
export { criteria } from "./criteria.js";
export { type CohortDecisions, decideCohort, type LeftOut } from "./decideCohort.js";
export { defineRule } from "./defineRule.js";
export { explainRule } from "./explainRule.js";
export type { Mistake } from "./mistake.js";
export { bandOfChildren, type MovableLimit, movableLimits, withLimit } from "./movableLimits.js";
export { publishedRules } from "./publishedRules.js";
export { quantityToday } from "./quantityToday.js";
export { type ReasonCombination, reasonCombinations } from "./reasonCombinations.js";
export {
  type ReferredAndFound,
  type ReferredRow,
  referredAndFound,
  referredAndFoundTable,
} from "./referredAndFound.js";
export {
  type RefractionCategories,
  type RefractionCategory,
  refractionCategories,
} from "./refractionCategories.js";
export type { AtLimit, RuleDecisions, UndecidableCause } from "./ruleDecisions.js";
export {
  type DecisionPair,
  type RuleDifference,
  ruleDifference,
  type StatedLimit,
} from "./ruleDifference.js";
export { bandText, comparison, limitText } from "./ruleText.js";
export { ruleSchema } from "./schema.js";
export type {
  AgeReason,
  CrossedReason,
  Expression,
  EyeLogic,
  EyeQuantity,
  LimitRange,
  MissingReason,
  MissingWhy,
  PairQuantity,
  ReferralRule,
  RuleBand,
  RuleChild,
  RuleCriterion,
  RuleDecision,
  RuleEye,
  RuleLimit,
  RuleReason,
} from "./types.js";
