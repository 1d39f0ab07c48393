import { InputError } from "../results/index.js";

/** Which cluster each row belongs to, numbered in the order in which they first appear. */
export interface Clusters {
  readonly count: number;
  readonly of: Int32Array;
  /** Rows of each cluster. */
  readonly sizes: Int32Array;
}

/** Test and reference as long as each other, and at least `least` rows. */
export function requirePairs(
  caller: string,
  test: ArrayLike<number>,
  reference: ArrayLike<number>,
  least = 2,
): number {
  if (test.length !== reference.length) {
    throw new InputError(
      `${caller} requires test and reference of one length, got ${test.length} and ${reference.length}`,
    );
  }
  if (test.length < least) {
    throw new InputError(`${caller} requires at least ${least} rows, got ${test.length}`);
  }
  return test.length;
}

/** Every value finite; the message names the first row that is not. */
export function requireFinite(caller: string, name: string, values: ArrayLike<number>): void {
  for (let row = 0; row < values.length; row++) {
    if (!Number.isFinite(values[row])) {
      throw new InputError(
        `${caller} requires finite values, got ${values[row]} in ${name} at row ${row}`,
      );
    }
  }
}

/** Numbers the labels; `undefined` puts every row in a cluster of its own. */
export function clustersOf(
  caller: string,
  labels: ArrayLike<string | number> | undefined,
  rows: number,
  name = "subjects",
): Clusters {
  const of = new Int32Array(rows);
  if (labels === undefined) {
    for (let row = 0; row < rows; row++) of[row] = row;
    return { count: rows, of, sizes: new Int32Array(rows).fill(1) };
  }
  if (labels.length !== rows) {
    throw new InputError(
      `${caller} requires ${name} for each of ${rows} rows, got ${labels.length}`,
    );
  }
  const numbers = new Map<string | number, number>();
  for (let row = 0; row < rows; row++) {
    const label = labels[row];
    if (label === undefined || label === null || label === "") {
      throw new InputError(`${caller} requires ${name} without gaps, got none at row ${row}`);
    }
    let number = numbers.get(label);
    if (number === undefined) {
      number = numbers.size;
      numbers.set(label, number);
    }
    of[row] = number;
  }
  const sizes = new Int32Array(numbers.size);
  for (let row = 0; row < rows; row++) sizes[of[row]]++;
  return { count: numbers.size, of, sizes };
}

/** Whether some cluster has more than one row. */
export function repeats(clusters: Clusters): boolean {
  return clusters.count < clusters.of.length;
}
