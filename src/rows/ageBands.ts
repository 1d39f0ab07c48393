import { InputError } from "../results/index.js";
import { requireNumbers } from "./columns.js";

/** Completed months from (included) to (excluded). */
export interface AgeBand {
  readonly fromMonths: number;
  readonly toMonths: number;
}

/**
 * Each row's band, -1 outside all of them or where the age is NaN. Ages in whole years: edges must
 * be whole years too.
 */
export function bandOfRows(
  caller: string,
  ageMonths: ArrayLike<number>,
  rows: number,
  bands: readonly AgeBand[],
): Int32Array {
  requireNumbers(caller, "ageMonths", ageMonths, rows, { missing: "NaN" });
  if (!(bands?.length > 0)) throw new InputError(`${caller} requires age bands, got none`);
  const sorted = [...bands].sort((a, b) => a.fromMonths - b.fromMonths);
  sorted.forEach(({ fromMonths, toMonths }, at) => {
    if (!(fromMonths < toMonths) || (at > 0 && fromMonths < sorted[at - 1].toMonths)) {
      throw new InputError(
        `${caller} requires age bands that do not overlap, got ${fromMonths} to ${toMonths} months`,
      );
    }
  });
  return Int32Array.from({ length: rows }, (_, row) => {
    const age = ageMonths[row];
    return bands.findIndex(({ fromMonths, toMonths }) => age >= fromMonths && age < toMonths);
  });
}

export const bandText = ({ fromMonths, toMonths }: AgeBand): string =>
  `${fromMonths} to below ${toMonths} months`;
