// Counts made coarse before anything is computed for the public, and what follows from them.

export { type CoarseCount, coarseSum, coarsen, isHidden, totalOf } from "./coarseCount.js";
export {
  type CoarseRate,
  coarseRate,
  outwards,
  type RateLimits,
  rateWithin,
  rateWords,
  restOf,
} from "./coarseRate.js";
export { type SumRange, sumEnds, sumRanges } from "./coarseSum.js";
export { keepRanges, safeRanges } from "./keepRanges.js";
export { risingRate } from "./risingRate.js";
export { type SmallCounts, smallCounts } from "./smallCounts.js";
export { atLeastFollows, type Known, type PartsOfWhole, whatFollows } from "./whatFollows.js";
