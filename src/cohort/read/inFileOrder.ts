import type { Findings, Problem, Readings } from "../types.js";
import { takeRows } from "./takeRows.js";

/**
 * Rows by line, however the file was taken apart: what is found by comparing rows is then the same for
 * a file in chunks and for a whole one. A row of the file that holds several measurements keeps them in
 * the order of the mapping.
 */
export function inFileOrder<Data extends Readings | Findings>(data: Data): Data {
  const { line, n } = data;
  if (isSorted(line)) return data;
  const order = Int32Array.from({ length: n }, (_, row) => row).sort(
    (a, b) => line[a] - line[b] || a - b,
  );
  return takeRows(data, order);
}

/** Problems by line; those of the whole file first. */
export function problemsInFileOrder(problems: readonly Problem[]): Problem[] {
  return problems.toSorted((a, b) => (a.row ?? 0) - (b.row ?? 0));
}

function isSorted(line: Int32Array): boolean {
  for (let row = 1; row < line.length; row++) if (line[row] < line[row - 1]) return false;
  return true;
}
