// How far a reading can be trusted.

export { type BiasBy, type BiasGroup, biasBy } from "./biasBy.js";
export type { EqualMeansTest } from "./brownForsythe.js";
export { type ConcordanceCorrelation, concordanceCorrelation } from "./concordanceCorrelation.js";
export {
  type FoldedDistribution,
  type FoldedPoint,
  foldedDistribution,
} from "./foldedDistribution.js";
export { type GreyZone, greyZone } from "./greyZone.js";
export {
  type IntraclassCorrelation,
  type IntraclassForm,
  intraclassCorrelation,
} from "./intraclassCorrelation.js";
export type { Line } from "./limits/conditionalFit.js";
export type { ConditionalBand, ConditionalPoint } from "./limits/conditionalLimits.js";
export { examinationWeights } from "./limits/examinationWeights.js";
export { type LimitFactors, singleLimitFactors } from "./limits/limitFactors.js";
export type { LimitEstimates } from "./limits/limitIntervals.js";
export type { VarianceComponents } from "./limits/limitModel.js";
export type { LimitDesign, LimitInterval } from "./limits/limitOptions.js";
export type { LeadingLimits, LimitsData, LimitsOptions } from "./limits/limitsData.js";
export { type LimitsOfAgreement, limitsOfAgreement } from "./limits/limitsOfAgreement.js";
export { limitsOfSummary } from "./limits/limitsOfSummary.js";
export { type NonparametricLimits, nonparametricLimits } from "./limits/nonparametricLimits.js";
export type { NormalityTest } from "./limits/normalityTest.js";
export type { OutsideLimits } from "./limits/outsideLimits.js";
export type { PairedMeasurements } from "./limits/pairedMeasurements.js";
export {
  type PercentileLimit,
  type PercentileLimits,
  percentileLimit,
} from "./limits/percentileLimits.js";
export { type RatioLimits, ratioLimits } from "./limits/ratioLimits.js";
export { type RegressionLimits, regressionLimits } from "./limits/regressionLimits.js";
export { type SurveyLimits, surveyLimits } from "./limits/surveyLimits.js";
export type { Trend } from "./limits/trendSlope.js";
export type { WeightedLimits } from "./limits/weightedData.js";
export { weightedLimits } from "./limits/weightedLimits.js";
export type { WithoutEndOfRange } from "./limits/withoutEndOfRange.js";
export { type PairedTTest, pairedTTest } from "./pairedTTest.js";
export { type Calibration, calibrateReading } from "./regression/calibrateReading.js";
export type { CalibrationRange } from "./regression/calibrationRanges.js";
export { type DemingRegression, demingRegression } from "./regression/demingRegression.js";
export {
  type DifferenceRegression,
  differenceRegression,
} from "./regression/differenceRegression.js";
export type { LinearityTest } from "./regression/linearityTest.js";
export { type PassingBablok, passingBablok } from "./regression/passingBablok.js";
export { type PredictedFinding, predictFinding } from "./regression/predictFinding.js";
export { choleskyInverse } from "./regression/smallMatrix.js";
export { type Repeatability, repeatability } from "./repeatability.js";
export { type SignedRankTest, signedRankTest } from "./signedRankTest.js";
export type { AstigmatismEllipses } from "./vectors/astigmatismEllipses.js";
export {
  type AxisAgreement,
  axisAgreement,
  type CylinderAndAxis,
} from "./vectors/axisAgreement.js";
export { type DoubleAngleSummary, doubleAngleSummary } from "./vectors/doubleAngleSummary.js";
export type { Ellipse, RegionName } from "./vectors/ellipse.js";
export { ellipseOfMean } from "./vectors/ellipseOfMean.js";
export { type Component, regionShadow } from "./vectors/regionShadow.js";
export {
  type HotellingTest,
  type VectorAgreement,
  type VectorOptions,
  vectorAgreement,
} from "./vectors/vectorAgreement.js";
export type { Eyes } from "./vectors/vectorColumns.js";
export type { VectorDistances } from "./vectors/vectorDistances.js";
export type { VectorRegion } from "./vectors/vectorRegions.js";
export { type DifferenceShares, withinDifference } from "./withinDifference.js";
