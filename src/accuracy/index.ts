export { type AccuracyByGroup, accuracyByGroup, type GroupAccuracy } from "./accuracyByGroup.js";
export { type Accuracy, type AccuracyOptions, accuracyFromCounts } from "./accuracyFromCounts.js";
export type { AccuracyMeasures, RatioMethod } from "./accuracyMeasures.js";
export type { AccuracyRows } from "./accuracyOfRows.js";
export {
  type ClusteredAccuracy,
  type ClusteredAccuracyOptions,
  clusteredAccuracy,
} from "./clusteredAccuracy.js";
export type { ChiSquareTest, ClusteredPaired } from "./clusteredPaired.js";
export { type CohenKappa, cohenKappa, type KappaWeights } from "./cohenKappa.js";
export type { ConditionColumn, SubjectColumn, TestColumn } from "./columns.js";
export {
  compareIndependentAccuracy,
  type IndependentAccuracy,
} from "./compareIndependentAccuracy.js";
export {
  compareIndependentProportions,
  type IndependentProportions,
  type Proportion,
} from "./compareIndependentProportions.js";
export {
  comparePairedAccuracy,
  type PairedAccuracy,
  type PairedRates,
} from "./comparePairedAccuracy.js";
export {
  comparePairedProportions,
  type PairedMethod,
  type PairedProportions,
} from "./comparePairedProportions.js";
export type { VerificationMethod } from "./correctedEstimates.js";
export {
  type CorrectedAccuracy,
  type CorrectVerificationOptions,
  correctVerification,
} from "./correctVerification.js";
export { countVerification, type VerificationCount } from "./countVerification.js";
export { crossClassify } from "./crossClassify.js";
export type { AccuracyDesign, Sampling, StatedDesign, Verification } from "./designMeasures.js";
export { type ImputedAccuracy, imputeVerification } from "./imputeVerification.js";
export {
  type InconclusivePolicy,
  type InconclusiveVariant,
  type InconclusiveVariants,
  inconclusiveVariants,
} from "./inconclusiveVariants.js";
export { type NetBenefit, type NetBenefitPoint, netBenefit } from "./netBenefit.js";
export { type NonInferiority, nonInferiority } from "./nonInferiority.js";
export type { PairedPredictive } from "./pairedPredictive.js";
export type { PredictiveMethod } from "./predictiveAtPrevalence.js";
export {
  type AccuracySource,
  type PredictiveValues,
  type PredictiveValuesRange,
  predictiveValuesAt,
} from "./predictiveValuesAt.js";
export type { Bounds, RateBounds } from "./rateBounds.js";
export {
  type ProgrammeCosts,
  type ProgrammeCounts,
  type ReferralYield,
  referralYield,
} from "./referralYield.js";
export { type PositiveOnEither, type RelativeRates, relativeRates } from "./relativeRates.js";
export {
  type StandardisedAccuracy,
  standardiseAccuracy,
  type WeightedGroup,
} from "./standardiseAccuracy.js";
export { type TippingPoint, type TippingRow, tippingPoint } from "./tippingPoint.js";
export type { UndecidablePolicy } from "./undecidable.js";
export { type UnreadableBounds, unreadableBounds } from "./unreadableBounds.js";
export {
  type UnreadableVariant,
  type UnreadableVariants,
  unreadableVariants,
} from "./unreadableVariants.js";
export { type VerificationBounds, verificationBounds } from "./verificationBounds.js";
export type { PooledCounts, Unverified, VerificationCounts } from "./verificationStrata.js";
