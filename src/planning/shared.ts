import { type Undefined, undefinedBecause } from "../results/index.js";
import { grouped, percent } from "../rows/index.js";
import { mostChildren } from "./smallestStaying.js";

/** The numbers for the precision table where none are given: around the planned one, round ones. */
export function tableSizes(
  at: readonly number[] | undefined,
  planned: number | Undefined,
): readonly number[] {
  if (at !== undefined) return at.toSorted((one, other) => one - other);
  if (typeof planned !== "number") return [];
  const sizes = [0.25, 0.5, 0.75, 0.9, 1.1, 1.25, 1.5, 2].map((part) =>
    roundNumber(part * planned),
  );
  return [...new Set([...sizes, planned])]
    .filter((size) => size >= 2)
    .sort((one, other) => one - other);
}

/** Two significant digits; whole. */
function roundNumber(value: number): number {
  return Math.round(Number(value.toPrecision(2)));
}

export function nobodyIsEnough(wanted: string): Undefined {
  return undefinedBecause(`${wanted} is not reached with ${grouped(mostChildren)} children`);
}

/** How a level and its one-sided twin are said. */
export function lowerEndWords(level: number): string {
  return `the lower end of the two-sided ${percent(level)} interval, a one-sided test at ${percent((1 - level) / 2)}`;
}
