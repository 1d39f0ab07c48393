import { InputError } from "../results/index.js";
import { requireLength } from "./columns.js";
import { shownValue } from "./shownValue.js";

/** Whose row it is. */
export type SubjectColumn = ArrayLike<string | number>;

/** The same, or what else tells rows apart: one label a row. */
export type Labels = ArrayLike<string | number | boolean>;

/** Which child (site, unit) each row belongs to, numbered in the order in which they first appear. */
export interface Clusters {
  readonly count: number;
  readonly ofRow: Int32Array;
  /** Rows of each cluster. */
  readonly sizes: Int32Array;
  /** Whether some cluster has more than one row. */
  readonly repeated: boolean;
}

/**
 * Numbers the labels of rows; without labels every row is a cluster of its own. The one place where
 * it is decided which child a row belongs to.
 *
 * Labels are equal when they are the same word or number. A row without a label belongs to nobody
 * known, so it is refused: an empty or blank word, null, undefined, NaN or infinity. So is a number
 * beside the same number written as a word, since nobody can say whether they are one child.
 *
 * @param name of the column in messages
 * @throws InputError naming the row, when a label is missing, or the column is not as long as `rows`
 */
export function clustersOf(
  caller: string,
  labels: Labels | undefined,
  rows: number,
  name = "subjects",
): Clusters {
  const ofRow = new Int32Array(rows);
  if (labels === undefined) {
    for (let row = 0; row < rows; row++) ofRow[row] = row;
    return { count: rows, ofRow, sizes: new Int32Array(rows).fill(1), repeated: false };
  }
  requireLength(caller, name, labels, rows);
  const numbers = new Map<string | number | boolean, number>();
  for (let row = 0; row < rows; row++) {
    const label = labels[row];
    let number = numbers.get(label);
    if (number === undefined) {
      requireLabel(caller, name, label, row);
      number = numbers.size;
      numbers.set(label, number);
    }
    ofRow[row] = number;
  }
  requireOneSpelling(caller, name, numbers);
  const sizes = new Int32Array(numbers.size);
  for (let row = 0; row < rows; row++) sizes[ofRow[row]]++;
  return { count: numbers.size, ofRow, sizes, repeated: numbers.size < rows };
}

/** Rows of each cluster, one list after the other: those of cluster c from start[c] to start[c + 1]. */
export function rowsByCluster({ count, ofRow, sizes }: Clusters): {
  readonly start: Int32Array;
  readonly rows: Int32Array;
} {
  const start = new Int32Array(count + 1);
  for (let cluster = 0; cluster < count; cluster++)
    start[cluster + 1] = start[cluster] + sizes[cluster];
  const next = start.slice();
  const rows = new Int32Array(ofRow.length);
  for (let row = 0; row < ofRow.length; row++) rows[next[ofRow[row]]++] = row;
  return { start, rows };
}

/** Whether an entry names anybody; see `clustersOf`. */
export function isLabel(label: unknown): label is string | number | boolean {
  return typeof label === "string"
    ? label.trim() !== ""
    : typeof label === "boolean" || Number.isFinite(label);
}

function requireLabel(caller: string, name: string, label: unknown, row: number): void {
  if (isLabel(label)) return;
  throw new InputError(
    `${caller} requires ${name} without gaps, got ${shownValue(label)} in row ${row}; leave the row out, or give it a label of its own`,
  );
}

/** Refuses 1 beside "1", and true beside "true". */
function requireOneSpelling(
  caller: string,
  name: string,
  numbers: ReadonlyMap<string | number | boolean, number>,
): void {
  const kinds = new Set([...numbers.keys()].map((label) => typeof label));
  if (kinds.size < 2) return;
  const seen = new Set<string>();
  for (const label of numbers.keys()) {
    if (seen.has(String(label))) {
      throw new InputError(
        `${caller} requires ${name} of one spelling, got ${label} as a number and as a word; write all of them as words`,
      );
    }
    seen.add(String(label));
  }
}
