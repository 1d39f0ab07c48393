export { type AccuracyByGroup, accuracyByGroup, type GroupAccuracy } from "./accuracyByGroup.js";
export { type Accuracy, type AccuracyOptions, accuracyFromCounts } from "./accuracyFromCounts.js";
export type { AccuracyMeasures, RatioMethod } from "./accuracyMeasures.js";
export type { AccuracyRows } from "./accuracyOfRows.js";
export {
  type CheckedLimits,
  checkPrintedLimits,
  type LimitsMultiplier,
  type LimitsName,
  type PrintedLimits,
} from "./checkPrintedLimits.js";
export {
  type CheckedMean,
  checkPrintedMean,
  type MeanIntervalMethod,
  type PrintedMean,
} from "./checkPrintedMean.js";
export {
  type ClusteredAccuracy,
  type ClusteredAccuracyOptions,
  clusteredAccuracy,
} from "./clusteredAccuracy.js";
export type { ChiSquareTest, ClusteredPaired } from "./clusteredPaired.js";
export { type CohenKappa, cohenKappa, type KappaWeights } from "./cohenKappa.js";
export type { CellRange } from "./collectTables.js";
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
export {
  type ComparedNumber,
  comparePrinted,
  type PrintedComparison,
  type PrintedVerdict,
} from "./comparePrinted.js";
export type { VerificationMethod } from "./correctedEstimates.js";
export {
  type CorrectedAccuracy,
  type CorrectVerificationOptions,
  correctVerification,
} from "./correctVerification.js";
export { countVerification, type VerificationCount } from "./countVerification.js";
export { crossClassify } from "./crossClassify.js";
export type { AccuracyDesign, Sampling, StatedDesign, Verification } from "./designMeasures.js";
export type { GridCheck } from "./gridValues.js";
export { type ImputedAccuracy, imputeVerification } from "./imputeVerification.js";
export {
  type InconclusivePolicy,
  type InconclusiveVariant,
  type InconclusiveVariants,
  inconclusiveVariants,
} from "./inconclusiveVariants.js";
export type { IntervalMethod } from "./intervalMethods.js";
export type { PrintedIntervals } from "./intervalsFit.js";
export {
  type Converted,
  type ConvertedLimits,
  limitsFromSd,
  sdFromLimits,
  sdFromMeanInterval,
} from "./limitsAndSd.js";
export {
  type IntervalMatch,
  matchIntervalMethod,
  type TriedInterval,
} from "./matchIntervalMethod.js";
export type { NearMiss, WithoutOne } from "./nearMisses.js";
export { type NetBenefit, type NetBenefitPoint, netBenefit } from "./netBenefit.js";
export { type NonInferiority, nonInferiority } from "./nonInferiority.js";
export type { PairedPredictive } from "./pairedPredictive.js";
export {
  type PossibleFraction,
  type PossibleFractions,
  possibleFractions,
} from "./possibleFractions.js";
export type { PredictiveMethod } from "./predictiveAtPrevalence.js";
export {
  type AccuracySource,
  type PredictiveValues,
  type PredictiveValuesRange,
  predictiveValuesAt,
} from "./predictiveValuesAt.js";
export { printedComparisonTable } from "./printedComparisonTable.js";
export type { PrintedMeasure, RatioMeasure } from "./printedMeasures.js";
export type { PrintedFit, RoundingRange } from "./printedNumber.js";
export type { KnownCount, PrintedTwoByTwo } from "./printedSearch.js";
export type { PrintedUnit } from "./printedShare.js";
export type { Bounds, RateBounds } from "./rateBounds.js";
export { type PrintedRow, readPrintedRows } from "./readPrintedRows.js";
export {
  type ReconstructedTable,
  type ReconstructOptions,
  reconstructTwoByTwo,
} from "./reconstructTwoByTwo.js";
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
export type { ShareMeasure } from "./tableSearch.js";
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
