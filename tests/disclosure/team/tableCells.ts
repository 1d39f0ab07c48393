import type { ConditionCell } from "../../../src/study/run/studyCells.js";

/** The counts of a 2x2 table. */
export const tableCells = [
  "truePositive",
  "falsePositive",
  "falseNegative",
  "trueNegative",
] as const;

/** Where a cell stands in it; null for the unexamined. */
export function placeOf({ studied, state }: ConditionCell): (typeof tableCells)[number] | null {
  if (state === "unexamined") return null;
  const has = state === "with" || state === "known-with";
  if (studied === "refer") return has ? "truePositive" : "falsePositive";
  return has ? "falseNegative" : "trueNegative";
}

/** Takes a count with what is true of it, and the range that is known; small ones are attacked. */
export type Count = (name: string, exact: number, range?: readonly [number, number]) => void;

export const sum = (numbers: readonly number[]) => numbers.reduce((all, one) => all + one, 0);
