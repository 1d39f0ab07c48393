// defining and explaining

// applying
export { applyRule } from "./applyRule.js";
export { asPublished } from "./asPublished.js";
// categories of refraction
export {
  type CategorisedColumns,
  type CategorisedPerson,
  type CategoriseOptions,
  type CategoryColumn,
  type CategoryOfPerson,
  categorise,
} from "./categorise.js";
export {
  completeRule,
  type RuleTemplate,
  type TemplateChoice,
  type TemplateOption,
} from "./completeRule.js";
export {
  type ConditionOfRule,
  conditionsOfRule,
  type RuleVariable,
} from "./conditionsOfRule.js";
export {
  type CohortDecisions,
  decideCohort,
  type LeftOut,
} from "./decideCohort.js";
export { defineRule } from "./defineRule.js";
export { explainRule } from "./explainRule.js";
export { publishedRules } from "./publishedRules.js";
// comparing
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
export { type RuleColumns, type RuleEyeColumns, ruleColumns } from "./ruleColumns.js";
export type { AtLimit, RuleDecisions, UndecidableCause } from "./ruleDecisions.js";
export {
  type DecisionPair,
  type RuleDifference,
  ruleDifference,
  type StatedLimit,
} from "./ruleDifference.js";
export type {
  AgeReason,
  CrossedReason,
  Decision,
  Expression,
  EyeLogic,
  EyeQuantity,
  LimitRange,
  MissingReason,
  MissingWhy,
  PairQuantity,
  ReferralRule,
  Relation,
  RuleBand,
  RuleChild,
  RuleCriterion,
  RuleDecision,
  RuleEye,
  RuleLimit,
  RuleReason,
} from "./types.js";
export { variableValues } from "./variableValues.js";
