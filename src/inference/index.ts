// Intervals, distributions, seeded random numbers, resampling.

export { clopperPearsonLimits } from "./betaIntervals.js";
export {
  binomialCdf,
  binomialQuantile,
  chiSquareCdf,
  chiSquareQuantile,
  chiSquareTail,
  fQuantile,
  fTail,
  normalCdf,
  normalQuantile,
  tCdf,
  tQuantile,
  twoSidedP,
  twoSidedT,
} from "./distributions.js";
export { type Homogeneity, homogeneity } from "./homogeneity.js";
export { newcombeIndependent, pooledZ } from "./independentDifference.js";
export { type McNemar, mcnemar } from "./mcnemar.js";
export { meanInterval } from "./meanInterval.js";
export { moverDifference, moverSum } from "./mover.js";
export { noncentralTQuantile } from "./noncentralT.js";
export { oddsRatioLog, oddsRatioScore } from "./oddsRatioInterval.js";
export { newcombePaired, type PairedCounts, tangoPaired } from "./pairedDifference.js";
export {
  type ProportionIntervalOptions,
  type ProportionMethod,
  proportionInterval,
} from "./proportionInterval.js";
export { createRandom, type Random } from "./random.js";
export { requireLevel } from "./requireLevel.js";
export {
  type BootstrapEstimate,
  type BootstrapOptions,
  bootstrap,
} from "./resampling/bootstrap.js";
export { redrawUnits, unitSampler } from "./resampling/drawUnits.js";
export { endThread, serveMessages } from "./resampling/endThread.js";
export { type CellCounts, cellCounter, cellSampler } from "./resampling/replicateCounts.js";
export {
  type ResampleUnits,
  unexaminedState,
  unitsOfRows,
  withoutState,
  withState,
} from "./resampling/resampleUnits.js";
export { runOnThreads, serveRuns } from "./resampling/runOnThreads.js";
export {
  effectiveSites,
  type JackknifeScale,
  jackknifeEstimate,
  jackknifeSums,
  siteJackknife,
  siteShare,
} from "./resampling/siteJackknife.js";
export { riskRatioLog, riskRatioScore, type TwoSamples } from "./riskRatioInterval.js";
export {
  clusteredShare,
  effectiveSize,
  type Share,
  shareInterval,
  shareOfClusters,
  wilsonEstimate,
} from "./share.js";
export { sortNumbers } from "./sortNumbers.js";
export { standardisedEstimate } from "./standardisedEstimate.js";
export {
  designOf,
  designVariance,
  designWords,
  noInterval,
  type SurveyDesign,
  type SurveyEstimate,
  surveyMean,
  surveyShare,
} from "./surveyEstimate.js";
export {
  logEstimate,
  logitEstimate,
  symmetricEstimate,
  tEstimate,
  twoSided,
} from "./transformedEstimate.js";
export { waldLimits } from "./waldIntervals.js";
export { wilsonLimits } from "./wilsonInterval.js";
