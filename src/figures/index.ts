export { type Astigmatism, astigmatismPoints } from "./astigmatismPoints.js";
export {
  type DifferenceAgainstMeanOptions,
  differenceAgainstMean,
  type LimitsShown,
} from "./differenceAgainstMean.js";
export { differencePoints, type PairedColumns } from "./differencePoints.js";
export { type DoubleAngleOptions, type DoubleAnglePanel, doubleAngle } from "./doubleAngle.js";
export {
  type Audience,
  type DensityCell,
  type Mark,
  type Plotted,
  type PointOptions,
  plottedPoints,
} from "./points.js";
export { type RenderOptions, render } from "./render.js";
export { renderSync } from "./renderSync.js";
export {
  type MarkedThreshold,
  type RocBand,
  type RocFigureOptions,
  rocFigure,
} from "./rocFigure.js";
