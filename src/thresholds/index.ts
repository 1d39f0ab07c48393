export { type AreaEstimate, type AreaOptions, areaUnderCurve } from "./areaUnderCurve.js";
export type { Condition, PositiveWhen } from "./classRows.js";
export { type OperatingPoint, type RocCurve, rocCurve } from "./rocCurve.js";
