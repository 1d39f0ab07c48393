import type { Clusters } from "../../rows/index.js";

/** What some rows add to a cell. */
export interface CellCount {
  n: number;
  examined: number;
  cases: number;
}

/** What each site adds to each cell. */
export function countsBySite(
  cells: number,
  sites: Clusters,
  row: (row: number) => {
    readonly cell: number;
    readonly stands: boolean;
    readonly isCase: boolean;
  },
): CellCount[][] {
  const counts = Array.from({ length: sites.count }, () =>
    Array.from({ length: cells }, () => ({ n: 0, examined: 0, cases: 0 })),
  );
  sites.ofRow.forEach((site, at) => {
    const { cell, stands, isCase } = row(at);
    if (cell < 0) return;
    const one = counts[site][cell];
    one.n++;
    one.examined += Number(stands);
    one.cases += Number(stands && isCase);
  });
  return counts;
}
