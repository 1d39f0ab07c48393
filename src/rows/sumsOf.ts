import type { Clusters } from "./clusters.js";

/** What the rows of each cluster add up to, one list a cluster. */
export function sumsOf(
  clusters: Clusters,
  width: number,
  ofRow: (row: number) => ArrayLike<number>,
): Float64Array[] {
  const sums = Array.from({ length: clusters.count }, () => new Float64Array(width));
  for (let row = 0; row < clusters.ofRow.length; row++) {
    const values = ofRow(row);
    const total = sums[clusters.ofRow[row]];
    for (let k = 0; k < width; k++) total[k] += values[k];
  }
  return sums;
}
