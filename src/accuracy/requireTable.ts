import { InputError, type TwoByTwo } from "../results/index.js";

/** A count: whole and not negative. */
export function requireCount(caller: string, name: string, value: number): number {
  if (!Number.isSafeInteger(value) || value < 0) {
    throw new InputError(
      `${caller} requires ${name} to be a whole count of 0 or more, got ${value}`,
    );
  }
  return value;
}

/** The four cells, checked. */
export function requireTable(caller: string, table: TwoByTwo): TwoByTwo {
  for (const cell of ["truePositive", "falsePositive", "falseNegative", "trueNegative"] as const) {
    requireCount(caller, cell, table[cell]);
  }
  return table;
}

/** A proportion strictly between 0 and 1, such as a prevalence. */
export function requireShare(caller: string, name: string, value: number): number {
  if (!(value > 0 && value < 1)) {
    throw new InputError(`${caller} requires ${name} between 0 and 1, got ${value}`);
  }
  return value;
}

/** One of a list of words. */
export function requireWord<Word extends string>(
  caller: string,
  name: string,
  words: readonly Word[],
  value: Word,
): Word {
  if (!words.includes(value)) {
    throw new InputError(`${caller} requires ${name} ${words.join(" or ")}, got ${value}`);
  }
  return value;
}
