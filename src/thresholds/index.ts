// ROC curves and areas
export { accuracyAtCutOffs, type CutOffCross } from "./accuracyAtCutOffs.js";
export type { AgeBand } from "./ageBands.js";
export {
  type AreaBootstrap,
  type AreaBootstrapOptions,
  areaUnderCurveOnThreads,
} from "./areaByBootstrap.js";
export { type AreasByAgeBand, areasByAgeBand } from "./areasByAgeBand.js";
export { type AreaEstimate, type AreaOptions, areaUnderCurve } from "./areaUnderCurve.js";
// the space of joint rules
export { type BestRule, bestRule, type NoRule, type RuleConstraints } from "./bestRule.js";
export { type BinormalCurve, binormalCurve } from "./binormalCurve.js";
// choosing and validating a cut-off
export { chooseThreshold, type ThresholdChoice, type ThresholdOptions } from "./chooseThreshold.js";
export type { Condition, PositiveWhen } from "./classRows.js";
export {
  type AreaComparison,
  compareAreas,
  compareSeveralAreas,
  type SeveralAreas,
} from "./compareAreas.js";
export { type AreaGroup, compareIndependentAreas } from "./compareIndependentAreas.js";
export type { Criterion } from "./criterion.js";
export type { CutOffShare } from "./cutOffDistribution.js";
export {
  type BandedFront,
  type BandedPoint,
  type BestOfBands,
  bestOfBands,
  mergeFronts,
} from "./mergeFronts.js";
export { paretoFront, type RuleFront, type RulePoint } from "./paretoFront.js";
export { type PartialArea, partialArea } from "./partialArea.js";
export type { Performance, PerformanceMeasures } from "./performance.js";
export { type PlacedRule, type PlacedRules, placeRules } from "./placeRules.js";
export type { ThresholdRows } from "./prepareRows.js";
export { type ExaminedRegion, restrictToExamined } from "./restrictToExamined.js";
export { type OperatingPoint, type RocCurve, rocCurve } from "./rocCurve.js";
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
export {
  type Limits,
  type Measures,
  type RuleCounts,
  type RuleSpace,
  ruleSpace,
  type UnreadablePolicy,
} from "./ruleSpace.js";
export { type RuleSpaceSize, ruleSpaceSize } from "./ruleSpaceSize.js";
export { type ScoreStep, type ScoreTradeoff, scoreTradeoff } from "./scoreTradeoff.js";
export type { RuleRows } from "./searchRows.js";
export { type SearchOptions, searchRules } from "./searchRules.js";
export { type SensitivityBand, sensitivityAtRates } from "./sensitivityAtRates.js";
export {
  type ConditionSensitivity,
  type SensitivityByCondition,
  sensitivityByCondition,
} from "./sensitivityByCondition.js";
export { type RuleStream, streamRules } from "./streamRules.js";
export { type ThresholdsByAgeBand, thresholdsByAgeBand } from "./thresholdsByAgeBand.js";
export {
  type ThresholdValidation,
  validateThreshold,
  type WeightedThresholdValidation,
} from "./validateThreshold.js";
export type { WeightedAccuracy } from "./weightedAccuracy.js";
