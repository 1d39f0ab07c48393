export {
  type AreaBootstrap,
  type AreaBootstrapOptions,
  areaUnderCurveOnThreads,
} from "./areaByBootstrap.js";
export { type AreaEstimate, type AreaOptions, areaUnderCurve } from "./areaUnderCurve.js";
export { chooseThreshold, type ThresholdChoice, type ThresholdOptions } from "./chooseThreshold.js";
export type { Condition, PositiveWhen } from "./classRows.js";
export type { Criterion } from "./criterion.js";
export type { CutOffShare } from "./cutOffDistribution.js";
export type { Performance, PerformanceMeasures } from "./performance.js";
export type { ThresholdRows, VerificationColumns } from "./prepareRows.js";
export { type OperatingPoint, type RocCurve, rocCurve } from "./rocCurve.js";
