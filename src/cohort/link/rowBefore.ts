/**
 * Whether a row counts before another of the same eye: the smaller (for the last, the larger) in the
 * first of the columns in which they differ, then by line. A row that lacks a number counts only after
 * those that have it, for the first as for the last: nobody knows where it belongs.
 */
export function rowBefore(
  row: number,
  other: number,
  columns: readonly (Float64Array | null)[],
  line: Int32Array,
  last: boolean,
): boolean {
  for (const column of columns) {
    if (column === null) continue;
    const [mine, its] = [column[row], column[other]];
    if (Number.isNaN(mine) !== Number.isNaN(its)) return Number.isNaN(its);
    if (mine < its) return !last;
    if (mine > its) return last;
  }
  return last ? line[row] >= line[other] : line[row] < line[other];
}
