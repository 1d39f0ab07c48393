import { takeRows } from "./takeRows.js";
import type { Findings, Readings } from "./types.js";

/**
 * Rows and problems by line, however the file was taken apart; problems of the whole file first. A
 * row of the file that holds several measurements keeps them in the order of the mapping.
 */
export function inFileOrder<Data extends Readings | Findings>(data: Data): Data {
  const problems = data.problems.toSorted((a, b) => (a.row ?? 0) - (b.row ?? 0));
  const { line, n } = data;
  if (isSorted(line)) return { ...data, problems };
  const order = Int32Array.from({ length: n }, (_, row) => row).sort(
    (a, b) => line[a] - line[b] || a - b,
  );
  return takeRows({ ...data, problems }, order);
}

function isSorted(line: Int32Array): boolean {
  for (let row = 1; row < line.length; row++) if (line[row] < line[row - 1]) return false;
  return true;
}
