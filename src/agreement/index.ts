export type { AstigmatismEllipses } from "./astigmatismEllipses.js";
export { type DoubleAngleSummary, doubleAngleSummary } from "./doubleAngleSummary.js";
export type { Ellipse, RegionName } from "./ellipse.js";
export type { LimitEstimates } from "./limitIntervals.js";
export type { VarianceComponents } from "./limitModel.js";
export {
  type LimitInterval,
  type LimitsOfAgreement,
  type LimitsOptions,
  limitsOfAgreement,
  type PairedMeasurements,
} from "./limitsOfAgreement.js";
export type { Trend } from "./trendSlope.js";
export { type HotellingTest, type VectorAgreement, vectorAgreement } from "./vectorAgreement.js";
export type { Eyes, VectorComponents } from "./vectorColumns.js";
