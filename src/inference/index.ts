export { type BootstrapEstimate, type BootstrapOptions, bootstrap } from "./bootstrap.js";
export { meanInterval } from "./meanInterval.js";
export {
  type ProportionIntervalOptions,
  type ProportionMethod,
  proportionInterval,
} from "./proportionInterval.js";
export { createRandom, type Random } from "./random.js";
