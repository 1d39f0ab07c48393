export {
  type Accuracy,
  type AccuracyOptions,
  accuracyFromCounts,
  type Sampling,
  type Verification,
} from "./accuracyFromCounts.js";
export type { AccuracyMeasures, RatioMethod } from "./accuracyMeasures.js";
export type { ConditionColumn, SubjectColumn, TestColumn } from "./columns.js";
export { crossClassify, type UndecidablePolicy } from "./crossClassify.js";
