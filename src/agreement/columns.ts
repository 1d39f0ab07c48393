import { InputError } from "../results/index.js";

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
