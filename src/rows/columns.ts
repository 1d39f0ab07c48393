import { InputError } from "../results/index.js";
import { shownValue } from "./shownValue.js";

/** A column with one entry for each row. */
export function requireLength(
  caller: string,
  name: string,
  column: ArrayLike<unknown>,
  rows: number,
): void {
  if (column?.length !== rows) {
    throw new InputError(
      `${caller} requires columns of one length, got ${column?.length ?? "no"} ${name} for ${rows} rows`,
    );
  }
}

/** Columns of one length, each of them there, and that length; `undefined` is an error too. */
export function requireSameLength(
  caller: string,
  columns: { readonly [name: string]: ArrayLike<unknown> },
): number {
  const sizes = Object.entries(columns).map(([name, column]) => {
    if (typeof column?.length !== "number") {
      throw new InputError(`${caller} requires a column ${name}, got ${typeof column}`);
    }
    return { name, length: column.length };
  });
  if (sizes.some(({ length }) => length !== sizes[0].length)) {
    throw new InputError(
      `${caller} requires columns of one length, got ${sizes.map(({ name, length }) => `${name} ${length}`).join(", ")}`,
    );
  }
  return sizes[0]?.length ?? 0;
}

/**
 * A finite number for each row: null, words, yes or no and holes are refused with their row, as
 * arithmetic would take them for numbers.
 *
 * @param more with `missing: "NaN"`, NaN stands for a missing value, and an infinite number for one
 *   beyond every limit; rows of `only` that are 0 are not looked at
 */
export function requireNumbers(
  caller: string,
  name: string,
  values: ArrayLike<number>,
  rows: number,
  more: { readonly missing?: "NaN"; readonly only?: Uint8Array } = {},
): void {
  const { missing, only } = more;
  requireLength(caller, name, values, rows);
  const fits: (value: unknown) => boolean =
    missing === "NaN" ? (value) => typeof value === "number" : Number.isFinite;
  for (let row = 0; row < rows; row++) {
    if (fits(values[row]) || only?.[row] === 0) continue;
    const wanted = missing === "NaN" ? "numbers (NaN where missing)" : "finite numbers";
    throw new InputError(
      `${caller} requires ${wanted} in ${name}, got ${shownValue(values[row])} in row ${row}; ` +
        (missing === "NaN"
          ? "write NaN for a value that is missing"
          : "leave the row out, or decide beforehand how it counts"),
    );
  }
}

/** Test and reference, a finite number each for at least `least` rows. */
export function requirePairs(
  caller: string,
  { test, reference }: { readonly test: ArrayLike<number>; readonly reference: ArrayLike<number> },
  least: number,
): number {
  const rows = requireSameLength(caller, { test, reference });
  if (rows < least) {
    throw new InputError(`${caller} requires at least ${least} rows, got ${rows}`);
  }
  requireNumbers(caller, "test", test, rows);
  requireNumbers(caller, "reference", reference, rows);
  return rows;
}

/** Finite weights of 0 or more, or above 0, one a row. */
export function requireWeights(
  caller: string,
  weights: ArrayLike<number>,
  rows: number,
  least: "0 or more" | "above 0" = "0 or more",
): void {
  requireLength(caller, "weights", weights, rows);
  for (let row = 0; row < rows; row++) {
    const weight: unknown = weights[row];
    if (Number.isFinite(weight) && (weights[row] > 0 || (weight === 0 && least === "0 or more")))
      continue;
    throw new InputError(
      `${caller} requires finite weights of ${least}, got ${shownValue(weight)} in row ${row}`,
    );
  }
}

/** Some rows of a column, in the order of their numbers given. */
export function takeRows<T>(column: ArrayLike<T>, rows: ArrayLike<number>): T[] {
  return Array.from(rows, (row) => column[row]);
}

type Taken<C> = { -readonly [K in keyof C]: C[K] extends ArrayLike<infer T> ? T[] : never };

/** The same of several columns; one that is not there stays away. */
export function takeColumns<C extends { readonly [name: string]: ArrayLike<unknown> | undefined }>(
  columns: C,
  rows: ArrayLike<number>,
): Taken<C> {
  return Object.fromEntries(
    Object.entries(columns).flatMap(([name, column]) =>
      column === undefined ? [] : [[name, takeRows(column, rows)]],
    ),
  ) as Taken<C>;
}
