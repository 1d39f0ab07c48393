export { applyRule } from "./applyRule.js";
export { defineRule } from "./defineRule.js";
export { type RuleColumns, type RuleEyeColumns, ruleColumns } from "./ruleColumns.js";
export type { AtLimit, RuleDecisions, UndecidableCause } from "./ruleDecisions.js";
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
