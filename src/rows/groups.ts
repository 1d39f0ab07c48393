import { clustersOf, type Labels } from "./clusters.js";

/** Row numbers by group, and how many rows are in none (a number below 0). */
export function rowsOfGroups(
  ofRow: Int32Array,
  count: number,
): { readonly rows: number[][]; readonly outside: number } {
  const rows = Array.from({ length: count }, (): number[] => []);
  let outside = 0;
  ofRow.forEach((group, row) => {
    if (group < 0) outside++;
    else rows[group].push(row);
  });
  return { rows, outside };
}

/** The rows of each label, in the order in which labels first appear; labels as in `clustersOf`. */
export function groupRows(
  caller: string,
  labels: Labels,
  rows: number,
  name = "groups",
): { readonly label: string; readonly rows: number[] }[] {
  const { ofRow, count } = clustersOf(caller, labels, rows, name);
  return rowsOfGroups(ofRow, count).rows.map((own) => ({
    label: String(labels[own[0]]),
    rows: own,
  }));
}
