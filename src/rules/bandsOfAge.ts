import { InputError } from "../results/index.js";
import type { CompiledRule } from "./compileRule.js";

/** The bands a child may be in, by position; `outside`: it may also be in none. */
interface PossibleBands {
  readonly bands: readonly number[];
  readonly outside: boolean;
}

/**
 * Bands that an age allows. Months are floored to completed ones; whole years stand for twelve
 * months, none of which is invented.
 */
export function bandsOfAge(
  { bands, anyAge }: CompiledRule,
  ageMonths: number | null | undefined,
  ageYears: number | null | undefined,
): PossibleBands | null {
  if (anyAge) return { bands: [0], outside: false };
  const months = finite(ageMonths);
  const years = finite(ageYears);
  if (months === null && years === null) return null;
  const first = months === null ? Math.floor(years!) * 12 : Math.floor(months);
  const last = months === null ? first + 11 : first;
  if (first < 0)
    throw new InputError(`applyRule requires an age of 0 or more, got ${first} months`);
  const possible = bands.flatMap(({ from, to }, at) => (first < to && last >= from ? [at] : []));
  const outside = first < bands[0].from || last >= bands[bands.length - 1].to;
  return { bands: possible, outside };
}

function finite(value: number | null | undefined): number | null {
  return value === null || value === undefined || Number.isNaN(value) ? null : value;
}
