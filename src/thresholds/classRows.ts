import { InputError } from "../results/index.js";

/** Which end of the scale speaks for the condition; never guessed. */
export type PositiveWhen = "high" | "low";

/** Yes or no for each row, as true and false or 1 and 0. */
export type Condition = ArrayLike<boolean | number>;

export function requireDirection(caller: string, positiveWhen: PositiveWhen): PositiveWhen {
  if (positiveWhen !== "high" && positiveWhen !== "low") {
    throw new InputError(
      `${caller} requires positiveWhen: "high" or "low", got ${String(positiveWhen)}`,
    );
  }
  return positiveWhen;
}

/** Finite values, one for each of n rows. */
export function requireValues(
  caller: string,
  name: string,
  values: ArrayLike<number>,
  n: number,
): void {
  requireLength(caller, name, values, n);
  for (let row = 0; row < n; row++) {
    if (!Number.isFinite(values[row])) {
      throw new InputError(
        `${caller} requires finite ${name}, got ${String(values[row])} in row ${row}; ` +
          "a reading that is not a number needs a policy before it comes here",
      );
    }
  }
}

/** Codes of the condition, 1 with and 0 without. A row that was not examined is neither. */
export function requireCondition(caller: string, condition: Condition): Uint8Array {
  const codes = new Uint8Array(condition.length);
  for (let row = 0; row < codes.length; row++) {
    const value = condition[row];
    if (value === true || value === 1) codes[row] = 1;
    else if (value !== false && value !== 0) {
      throw new InputError(
        `${caller} requires condition to be true, false, 1 or 0, got ${String(value)} in row ${row}; ` +
          "a row without a finding is neither with nor without the condition: weight the examined rows",
      );
    }
  }
  return codes;
}

/** Finite weights of 0 or more, one a row. */
export function requireWeights(caller: string, weights: ArrayLike<number>, n: number): void {
  requireLength(caller, "weights", weights, n);
  for (let row = 0; row < n; row++) {
    if (!(weights[row] >= 0 && weights[row] < Number.POSITIVE_INFINITY)) {
      throw new InputError(
        `${caller} requires finite weights of 0 or more, got ${String(weights[row])} in row ${row}`,
      );
    }
  }
}

export function requireLength(
  caller: string,
  name: string,
  column: ArrayLike<unknown>,
  n: number,
): void {
  if (column.length !== n) {
    throw new InputError(
      `${caller} requires columns of one length, got ${column.length} ${name} for ${n} rows of condition`,
    );
  }
}
