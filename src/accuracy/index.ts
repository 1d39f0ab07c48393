// 2x2 tables, comparison, verification, clusters, net benefit, kappa.

export {
  type AccuracyByGroup,
  accuracyByGroup,
  type GroupAccuracy,
  noTestOverSites,
} from "./accuracyByGroup.js";
export { type Accuracy, type AccuracyOptions, accuracyFromCounts } from "./accuracyFromCounts.js";
export {
  type AccuracyMeasures,
  type RatioMethod,
  youdenInterval,
  youdenOfRates,
} from "./accuracyMeasures.js";
export type { AccuracyRows } from "./accuracyOfRows.js";
export {
  type ClusteredAccuracy,
  type ClusteredAccuracyOptions,
  type ClusteredRows,
  clusteredAccuracy,
} from "./clusteredAccuracy.js";
export { type CohenKappa, cohenKappa, type KappaWeights } from "./cohenKappa.js";
export type { ChiSquareTest, ClusteredPaired } from "./compare/clusteredPaired.js";
export {
  compareIndependentAccuracy,
  type IndependentAccuracy,
} from "./compare/compareIndependentAccuracy.js";
export {
  compareIndependentProportions,
  type IndependentProportions,
  type Proportion,
} from "./compare/compareIndependentProportions.js";
export { compareNetBenefit, type NetBenefitComparison } from "./compare/compareNetBenefit.js";
export {
  comparePairedAccuracy,
  type PairedAccuracy,
  type PairedRates,
} from "./compare/comparePairedAccuracy.js";
export {
  comparePairedProportions,
  type PairedMethod,
  type PairedProportions,
} from "./compare/comparePairedProportions.js";
export { type NonInferiority, nonInferiority } from "./compare/nonInferiority.js";
export type { PairedPredictive } from "./compare/pairedPredictive.js";
export {
  type PositiveOnEither,
  type RelativeRates,
  relativeRates,
} from "./compare/relativeRates.js";
export { crossClassify } from "./crossClassify.js";
export type { AccuracyDesign, Sampling, StatedDesign, Verification } from "./designMeasures.js";
export {
  type ImperfectReference,
  imperfectReference,
  type ReferenceErrorRow,
} from "./imperfectReference.js";
export {
  type InconclusivePolicy,
  type InconclusiveVariant,
  type InconclusiveVariants,
  inconclusiveVariants,
} from "./inconclusiveVariants.js";
export {
  childrenByRate,
  demandedCount,
  type KeptConstraint,
  keptConstraint,
} from "./keptConstraint.js";
export { type NetBenefit, type NetBenefitPoint, netBenefit } from "./netBenefit.js";
export {
  type CrossValidated,
  errorOverRepeats,
  meanOverRepeats,
  type Performance,
  type PerformanceMeasures,
  performanceOf,
} from "./performance.js";
export {
  negativePredictiveAt,
  negativeRatio,
  type PredictiveMethod,
  positivePredictiveAt,
  positiveRatio,
} from "./predictiveAtPrevalence.js";
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
  examsOverCases,
  referralYield,
} from "./referralYield.js";
export { requireTable } from "./requireTable.js";
export { shareAtOdds } from "./shareAtOdds.js";
export { logitRatio } from "./logitRatio.js";
export {
  type StandardisedAccuracy,
  standardiseAccuracy,
  type WeightedGroup,
} from "./standardiseAccuracy.js";
export { type UnreadableBounds, unreadableBounds } from "./unreadableBounds.js";
export {
  type UnreadableVariant,
  type UnreadableVariants,
  unreadableVariants,
} from "./unreadableVariants.js";
export {
  type OutcomeMeasure,
  outcomeMeasures,
  partOfWhole,
  type RateSums,
  ratedCells,
  rateSums,
} from "./verification/cellRates.js";
export { correctByDecision } from "./verification/correctByDecision.js";
export { correctCells } from "./verification/correctCells.js";
export type { CorrectedAccuracy } from "./verification/correctedAccuracy.js";
export type { VerificationMethod } from "./verification/correctedEstimates.js";
export {
  type CorrectVerificationOptions,
  correctVerification,
} from "./verification/correctVerification.js";
export { countVerification, type VerificationCount } from "./verification/countVerification.js";
export type { DecisionColumns } from "./verification/decisionRows.js";
export {
  type ImputedAccuracy,
  type ImputedRate,
  imputeVerification,
} from "./verification/imputeVerification.js";
export {
  everyOutcome,
  type OutcomeShares,
  outcomeShare,
  outcomesOfCells,
} from "./verification/outcomesOfCells.js";
export { type TippingPoint, type TippingRow, tippingPoint } from "./verification/tippingPoint.js";
export {
  boundsOfCounts,
  type VerificationBounds,
  verificationBounds,
} from "./verification/verificationBounds.js";
export {
  sortedCells,
  type VerificationCell,
  type VerificationCells,
  verificationCells,
} from "./verification/verificationCells.js";
export { shareOf, verificationShares } from "./verification/verificationShares.js";
export type {
  PooledCounts,
  Unverified,
  VerificationCounts,
} from "./verification/verificationStrata.js";
export {
  type VerificationWeights,
  verificationWeights,
} from "./verification/verificationWeights.js";
