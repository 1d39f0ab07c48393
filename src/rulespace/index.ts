// All joint rules at once, their search and validation.

export { type BestRule, bestRule, type NoRule, type RuleConstraints } from "./bestRule.js";
export {
  type BandedFront,
  type BandedPoint,
  type BestOfBands,
  bestOfBands,
  mergeFronts,
} from "./mergeFronts.js";
export { paretoFront, type RuleFront, type RulePoint, rulePoint } from "./paretoFront.js";
export { type PlacedRule, type PlacedRules, placeRules } from "./placeRules.js";
export { type ExaminedRegion, restrictToExamined } from "./restrictToExamined.js";
export { ruleAt } from "./ruleAt.js";
export { type RuleFrontsByAgeBand, ruleFrontsByAgeBand } from "./ruleFrontsByAgeBand.js";
export type { FrontAgainst, RuleCosts, RuleGoal } from "./ruleGoal.js";
export { type EyeColumns, type RuleMeasures, ruleMeasures } from "./ruleMeasures.js";
export type {
  FrontReading,
  LimitShare,
  RangeOfLimit,
  RuleLimits,
  RulePlateau,
  RuleSearch,
} from "./ruleSearch.js";
export { type RuleCounts, type RuleSpace, ruleSpace } from "./ruleSpace.js";
export { type RuleSpaceSize, ruleSpaceSize } from "./ruleSpaceSize.js";
export type { RuleRows } from "./searchRows.js";
export { type SearchOptions, searchRules } from "./searchRules.js";
export {
  type ConditionSensitivity,
  type SensitivityByCondition,
  sensitivityByCondition,
} from "./sensitivityByCondition.js";
export type { Limits, Measures } from "./spaceInput.js";
export { type RuleStream, streamRules } from "./streamRules.js";
