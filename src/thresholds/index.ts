// ROC curves, areas, choice and validation of a cut-off.

export type { PositiveWhen } from "../rows/index.js";
export {
  type AccuracyAtCutOffs,
  accuracyAtCutOffs,
  type CutOffCross,
} from "./accuracyAtCutOffs.js";
export {
  type AreaBootstrap,
  type AreaBootstrapOptions,
  areaUnderCurveOnThreads,
} from "./areas/areaByBootstrap.js";
export type { AreaEstimate } from "./areas/areaEstimate.js";
export { areaLimits } from "./areas/areaInterval.js";
export { type AreasByAgeBand, areasByAgeBand } from "./areas/areasByAgeBand.js";
export { type AreaOptions, areaUnderCurve } from "./areas/areaUnderCurve.js";
export { type BinormalCurve, binormalCurve } from "./areas/binormalCurve.js";
export {
  type AreaComparison,
  compareAreas,
  compareSeveralAreas,
  type SeveralAreas,
} from "./areas/compareAreas.js";
export { type AreaGroup, compareIndependentAreas } from "./areas/compareIndependentAreas.js";
export { type PartialArea, partialArea } from "./areas/partialArea.js";
export { chooseThreshold, type ThresholdChoice, type ThresholdOptions } from "./chooseThreshold.js";
export type { Criterion } from "./criterion.js";
export type { CutOffShare } from "./cutOffDistribution.js";
export {
  type CompareInstrumentsOptions,
  compareInstruments,
  type InstrumentColumns,
  type InstrumentComparison,
} from "./instruments/compareInstruments.js";
export { instrumentTable } from "./instruments/instrumentTable.js";
export { fewChildrenWords } from "./nestedIntervals.js";
export type { ThresholdRows } from "./prepareRows.js";
export { type OperatingPoint, type RocCurve, rocCurve } from "./rocCurve.js";
export { type ScoreStep, type ScoreTradeoff, scoreTradeoff } from "./scoreTradeoff.js";
export { type SensitivityBand, sensitivityAtRates } from "./sensitivityAtRates.js";
export { type ThresholdsByAgeBand, thresholdsByAgeBand } from "./thresholdsByAgeBand.js";
export {
  type ThresholdValidation,
  validateThreshold,
  type WeightedThresholdValidation,
} from "./validateThreshold.js";
export type { WeightedAccuracy } from "./weightedAccuracy.js";
