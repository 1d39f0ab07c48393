// limits of agreement

export type { AstigmatismEllipses } from "./astigmatismEllipses.js";
export { type AxisAgreement, axisAgreement, type CylinderAndAxis } from "./axisAgreement.js";
// who agrees less
export { type BiasBy, type BiasGroup, biasBy } from "./biasBy.js";
// from a reading to a research estimate of the finding
export { type Calibration, calibrateReading } from "./calibrateReading.js";
export { type ConcordanceCorrelation, concordanceCorrelation } from "./concordanceCorrelation.js";
// lines between two methods, and tests of a difference
export { type DemingRegression, demingRegression } from "./demingRegression.js";
export { type DifferenceRegression, differenceRegression } from "./differenceRegression.js";
export { type DoubleAngleSummary, doubleAngleSummary } from "./doubleAngleSummary.js";
export type { Ellipse, RegionName } from "./ellipse.js";
export { examinationWeights } from "./examinationWeights.js";
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
export type { LimitEstimates } from "./limitIntervals.js";
export type { VarianceComponents } from "./limitModel.js";
export type { LimitDesign, LimitInterval } from "./limitOptions.js";
export {
  type LimitsOfAgreement,
  type LimitsOptions,
  limitsOfAgreement,
  type PairedMeasurements,
} from "./limitsOfAgreement.js";
export type { LinearityTest } from "./linearityTest.js";
export { type NonparametricLimits, nonparametricLimits } from "./nonparametricLimits.js";
export type { NormalityTest } from "./normalityTest.js";
export type { OutsideLimits } from "./outsideLimits.js";
export { type PairedTTest, pairedTTest } from "./pairedTTest.js";
export { type PassingBablok, passingBablok } from "./passingBablok.js";
export { type PredictedFinding, predictFinding } from "./predictFinding.js";
export { type RatioLimits, ratioLimits } from "./ratioLimits.js";
export { type Component, regionShadow } from "./regionShadow.js";
export { type Line, type RegressionLimits, regressionLimits } from "./regressionLimits.js";
// repeats and reliability
export { type Repeatability, repeatability } from "./repeatability.js";
export { type SignedRankTest, signedRankTest } from "./signedRankTest.js";
export type { Trend } from "./trendSlope.js";
// vectors
export {
  type HotellingTest,
  type VectorAgreement,
  type VectorOptions,
  vectorAgreement,
} from "./vectorAgreement.js";
export type { Eyes } from "./vectorColumns.js";
export type { VectorDistances } from "./vectorDistances.js";
export type { VectorRegion } from "./vectorRegions.js";
export { type WeightedLimits, weightedLimits } from "./weightedLimits.js";
export { type DifferenceShares, withinDifference } from "./withinDifference.js";
