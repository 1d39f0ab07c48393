// Results to Vega-Lite specifications and their renderers.

export { biasByFigure } from "./biasByFigure.js";
export { calibrationFigure } from "./calibrationFigure.js";
export { cutOffFigure } from "./cutOffFigure.js";
export {
  type DifferenceAgainstMeanOptions,
  differenceAgainstMean,
  type LimitsShown,
} from "./differenceAgainstMean.js";
export { type DoubleAngleOptions, type DoubleAnglePanel, doubleAngle } from "./doubleAngle.js";
export { examinedFigure, refractionByAgeFigure } from "./examinedFigure.js";
export { flowFigure } from "./flowFigure.js";
export { foldedDifferences } from "./foldedDifferences.js";
export { forestFigure } from "./forestFigure.js";
export { intervalMatchFigure } from "./intervalMatchFigure.js";
export { limitHeatMap } from "./limitHeatMap.js";
export { limitRanges } from "./limitRanges.js";
export { methodRegression, type RegressionLine } from "./methodRegression.js";
export { netBenefitFigure } from "./netBenefitFigure.js";
export { planFigure } from "./planFigure.js";
export { predictiveValuesFigure } from "./predictiveValuesFigure.js";
export { ratesAlongLimit } from "./ratesAlongLimit.js";
export { type ReasonCount, referralReasons } from "./referralReasons.js";
export { type FoundCount, referredAgainstFound } from "./referredAgainstFound.js";
export { chartSvg, type Drawing } from "./render/chartSvg.js";
export { svgToPng } from "./render/png.js";
export { type RenderOptions, render } from "./render/render.js";
export { renderSync } from "./render/renderSync.js";
export { repeatabilityFigure } from "./repeatabilityFigure.js";
export { type MarkedThreshold, type RocFigureOptions, rocFigure } from "./rocFigure.js";
export { ruleFrontFigure } from "./ruleFrontFigure.js";
export { scoreTradeoffFigure } from "./scoreTradeoffFigure.js";
export { type ShareHistogramOptions, shareHistogram } from "./shareHistogram.js";
export { type VectorDifference, vectorProjections } from "./vectorProjections.js";
export { verificationBoundsFigure } from "./verificationBoundsFigure.js";
