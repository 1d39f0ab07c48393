// The one way in for values: what the public functions are given, compared with their types.

export { faultIn } from "./faultIn.js";
export { guarded, requireShape } from "./guarded.js";
export type { Members, Parameter, Shape } from "./shapes.js";
