// What a row is, once: whose it is, what it says, how its numbers are compared and written.

export { type AgeBand, bandOfRows, bandText, rowsOfBands, takeRows } from "./ageBands.js";
export { type Clusters, clustersOf, type Labels, rowsByCluster } from "./clusters.js";
export { type ClusterCounts, countByCluster } from "./countByCluster.js";
export { requireWhole } from "./requireWhole.js";
