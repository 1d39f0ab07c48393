import type { Clusters } from "./clusters.js";

/** How many rows each cluster has, and how many of them are successes. */
export interface ClusterCounts {
  readonly successes: ArrayLike<number>;
  readonly rows: ArrayLike<number>;
}

/** Counts, cluster by cluster, the rows for which something holds. */
export function countByCluster(
  { count, ofRow, sizes }: Clusters,
  holds: (row: number) => boolean,
): ClusterCounts {
  const successes = new Int32Array(count);
  for (let row = 0; row < ofRow.length; row++) if (holds(row)) successes[ofRow[row]]++;
  return { successes, rows: sizes };
}
