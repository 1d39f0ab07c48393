// who was studied

// can the reading be trusted
export { type Astigmatism, astigmatismPoints } from "./astigmatismPoints.js";
export { biasByFigure } from "./biasByFigure.js";
export { calibrationFigure } from "./calibrationFigure.js";
// where is the line
export { cutOffFigure } from "./cutOffFigure.js";
export {
  type DifferenceAgainstMeanOptions,
  differenceAgainstMean,
  type LimitsShown,
} from "./differenceAgainstMean.js";
export { differencePoints, type PairedColumns } from "./differencePoints.js";
export { type DoubleAngleOptions, type DoubleAnglePanel, doubleAngle } from "./doubleAngle.js";
export { examinedFigure, refractionByAgeFigure } from "./examinedFigure.js";
export { flowFigure } from "./flowFigure.js";
export { foldedDifferences } from "./foldedDifferences.js";
// who is referred
export { forestFigure } from "./forestFigure.js";
export { intervalMatchFigure } from "./intervalMatchFigure.js";
export type { ForestRow } from "./forestRows.js";
export { limitHeatMap } from "./limitHeatMap.js";
export { limitRanges } from "./limitRanges.js";
export { methodRegression, type RegressionLine } from "./methodRegression.js";
export { netBenefitFigure } from "./netBenefitFigure.js";
// drawing
export {
  type Audience,
  type DensityCell,
  type Mark,
  type Plotted,
  type PointOptions,
  plottedPoints,
} from "./points.js";
export { planFigure } from "./planFigure.js";
export { predictiveValuesFigure } from "./predictiveValuesFigure.js";
export { ratesAlongLimit } from "./ratesAlongLimit.js";
export { type ReasonCount, referralReasons } from "./referralReasons.js";
export { type FoundCount, referredAgainstFound } from "./referredAgainstFound.js";
export { type RenderOptions, render } from "./render.js";
export { renderSync } from "./renderSync.js";
export { repeatabilityFigure } from "./repeatabilityFigure.js";
export {
  type MarkedThreshold,
  type RocFigureOptions,
  rocFigure,
} from "./rocFigure.js";
export { ruleFrontFigure } from "./ruleFrontFigure.js";
export { scoreTradeoffFigure } from "./scoreTradeoffFigure.js";
export { type ShareHistogramOptions, shareHistogram } from "./shareHistogram.js";
export { type VectorDifference, vectorProjections } from "./vectorProjections.js";
export { verificationBoundsFigure } from "./verificationBoundsFigure.js";
