import { requireLength } from "./classRows.js";

/** Rows by child. */
export interface Clusters {
  /** Number of children. */
  readonly count: number;
  /** Each row's child, numbered in order of appearance. */
  readonly ofRow: Int32Array;
  /** Whether any child has more than one row. */
  readonly repeated: boolean;
}

export function clusterRows(
  caller: string,
  subjects: ArrayLike<string | number>,
  n: number,
): Clusters {
  requireLength(caller, "subjects", subjects, n);
  const numbers = new Map<string | number, number>();
  const ofRow = new Int32Array(n);
  for (let row = 0; row < n; row++) {
    const subject = subjects[row];
    let number = numbers.get(subject);
    if (number === undefined) {
      number = numbers.size;
      numbers.set(subject, number);
    }
    ofRow[row] = number;
  }
  return { count: numbers.size, ofRow, repeated: numbers.size < n };
}

/**
 * How many pairs of one row of each class can be formed so that no two rows share a child.
 * Children may have rows of one class only, or of both.
 */
export function disjointPairs(codes: Uint8Array, clusters: Clusters | null): number {
  const classes = new Uint8Array(clusters?.count ?? codes.length);
  for (let row = 0; row < codes.length; row++) {
    classes[clusters === null ? row : clusters.ofRow[row]] |= codes[row] === 1 ? 2 : 1;
  }
  let control = 0;
  let both = 0;
  for (const seen of classes) {
    if (seen === 1) control++;
    else if (seen === 3) both++;
  }
  const only = classes.length - control - both;
  return Math.min(only + both, control + both, Math.floor((only + control + both) / 2));
}
