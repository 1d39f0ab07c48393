export { type BootstrapEstimate, type BootstrapOptions, bootstrap } from "./bootstrap.js";
export type { Homogeneity } from "./homogeneity.js";
export type { McNemar } from "./mcnemar.js";
export { meanInterval } from "./meanInterval.js";
export type { PairedCounts } from "./pairedDifference.js";
export {
  type ProportionIntervalOptions,
  type ProportionMethod,
  proportionInterval,
} from "./proportionInterval.js";
export { createRandom, type Random } from "./random.js";
