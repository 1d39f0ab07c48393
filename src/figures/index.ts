// Results to Vega-Lite specifications and their renderers.

export { biasByFigure } from "./biasByFigure.js";
export { calibrationFigure } from "./calibrationFigure.js";
export { cutOffFigure } from "./cutOffFigure.js";
export {
  type DifferenceAgainstMeanOptions,
  differenceAgainstMeanFigure,
} from "./differenceAgainstMeanFigure.js";
export {
  type DifferencePanel,
  type DifferencePanelsOptions,
  differencePanelsFigure,
} from "./differencePanelsFigure.js";
export {
  type DoubleAngleOptions,
  type DoubleAnglePanel,
  doubleAngleFigure,
} from "./doubleAngleFigure.js";
export { examinedFigure, refractionByAgeFigure } from "./examinedFigure.js";
export { type FlowResults, flowFigure, flowOfCounts } from "./flowFigure.js";
export { foldedDifferencesFigure } from "./foldedDifferencesFigure.js";
export { forestFigure } from "./forestFigure.js";
export { funnelFigure } from "./funnelFigure.js";
export { instrumentComparisonFigure } from "./instrumentComparisonFigure.js";
export { intervalMatchFigure } from "./intervalMatchFigure.js";
export { type LimitFigureOptions, limitFigure } from "./limitFigure.js";
export { limitHeatMapFigure } from "./limitHeatMapFigure.js";
export { limitRangesFigure } from "./limitRangesFigure.js";
export { type LinkedEyes, type LinkedView, linkedFigures } from "./linkedFigures.js";
export { liveSpec } from "./live/liveSpec.js";
export type { LimitsShown } from "./marks/differenceLines.js";
export { type OutcomePart, outcomeWords, type ThousandPanel } from "./marks/outcomeMarks.js";
export { methodRegressionFigure, type RegressionLine } from "./methodRegressionFigure.js";
export { netBenefitFigure } from "./netBenefitFigure.js";
export { outcomesPerThousandFigure } from "./outcomesPerThousandFigure.js";
export { planFigure } from "./planFigure.js";
export { predictiveValuesFigure } from "./predictiveValuesFigure.js";
export { programmeComparisonFigure } from "./programmeComparisonFigure.js";
export { ratesAlongLimitFigure } from "./ratesAlongLimitFigure.js";
export { type ReasonCount, referralReasonsFigure } from "./referralReasonsFigure.js";
export { type FoundCount, referredAgainstFoundFigure } from "./referredAgainstFoundFigure.js";
export { chartSvg, type Drawing } from "./render/chartSvg.js";
export { loadTextWidth } from "./render/fonts.js";
export { svgToPng } from "./render/png.js";
export { type RenderOptions, render } from "./render/render.js";
export { renderSync } from "./render/renderSync.js";
export { repeatabilityFigure } from "./repeatabilityFigure.js";
export { type MarkedThreshold, type RocFigureOptions, rocFigure } from "./rocFigure.js";
export { ruleFrontFigure } from "./ruleFrontFigure.js";
export { scoreTradeoffFigure } from "./scoreTradeoffFigure.js";
export { type ShareHistogramOptions, shareHistogramFigure } from "./shareHistogramFigure.js";
export { type VectorDifference, vectorProjectionsFigure } from "./vectorProjectionsFigure.js";
export { verificationBoundsFigure } from "./verificationBoundsFigure.js";
export { columnMm } from "./theme.js";
