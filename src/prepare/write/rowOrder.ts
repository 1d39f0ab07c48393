import type { CodedTable } from "../../cohort/index.js";

export function rowsWithChild(childOf: Int32Array): Int32Array {
  const rows = new Int32Array(childOf.length);
  let n = 0;
  for (let row = 0; row < childOf.length; row++) if (childOf[row] >= 0) rows[n++] = row;
  return rows.subarray(0, n);
}

export function linesLeftOut(table: CodedTable, childOf: Int32Array): number[] {
  const lines = table.rejected.flatMap(({ row }) => (row === null ? [] : [row]));
  for (let row = 0; row < childOf.length; row++) if (childOf[row] < 0) lines.push(table.line[row]);
  return lines.sort((one, other) => one - other);
}

/** Each child's place when the study numbers are sorted. */
export function rankOf(numbers: readonly string[]): Int32Array {
  const order = Float64Array.from(numbers, (number) => Number(number.slice(1)));
  const children = Uint32Array.from(numbers, (_, child) => child).sort(
    (a, b) => order[a] - order[b],
  );
  const rank = new Int32Array(numbers.length);
  for (let place = 0; place < children.length; place++) rank[children[place]] = place;
  return rank;
}

/** Rows by their child's place; those of one child as they stand in the file. */
export function inOrderOf(rows: Int32Array, childOf: Int32Array, rank: Int32Array): Int32Array {
  const starts = new Int32Array(rank.length + 1);
  for (const row of rows) starts[rank[childOf[row]] + 1]++;
  for (let place = 1; place < starts.length; place++) starts[place] += starts[place - 1];
  const sorted = new Int32Array(rows.length);
  for (const row of rows) sorted[starts[rank[childOf[row]]]++] = row;
  return sorted;
}
