// What a row is, once: whose it is, what it says, how its numbers are compared and written.

export { type AgeBand, bandOfRows, bandText, rowsOfBands, takeRows } from "./ageBands.js";
export { type Clusters, clustersOf, type Labels, rowsByCluster } from "./clusters.js";
export { type ClusterCounts, countByCluster } from "./countByCluster.js";
export { isOnGrid, noiseOf, onGrid, toThousandths, withoutNoise } from "./dioptres.js";
export {
  directionOf,
  isStrict,
  type Limit,
  limitAt,
  limitWords,
  meets,
  quantityText,
  type Relation,
  reaches,
} from "./limits.js";
export { counted, fixed, grouped, percent, printSigns } from "./numberWords.js";
export { requireWhole } from "./requireWhole.js";
export { sum } from "./sum.js";
