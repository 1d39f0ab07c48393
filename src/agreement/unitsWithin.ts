import { type Clusters, clustersOf, type Labels } from "../rows/index.js";

/** Units are read within their subject, so that "right" may stand for the right eye of every child. */
export function unitsWithin(
  caller: string,
  subjects: Clusters,
  units: Labels | undefined,
  rows: number,
): Clusters {
  if (units === undefined) return clustersOf(caller, undefined, rows);
  const labels = clustersOf(caller, units, rows, "units");
  const within = new Float64Array(rows);
  for (let row = 0; row < rows; row++) {
    within[row] = subjects.ofRow[row] * labels.count + labels.ofRow[row];
  }
  return clustersOf(caller, within, rows, "units");
}
