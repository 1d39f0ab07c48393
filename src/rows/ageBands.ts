import { InputError } from "../results/index.js";

/** Completed months from (included) to (excluded). */
export interface AgeBand {
  readonly fromMonths: number;
  readonly toMonths: number;
}

/** Each row's band, -1 outside all of them. Ages in whole years: edges must be whole years too. */
export function bandOfRows(
  caller: string,
  ageMonths: ArrayLike<number>,
  bands: readonly AgeBand[],
): Int32Array {
  if (!(bands?.length > 0)) throw new InputError(`${caller} requires age bands, got none`);
  const sorted = [...bands].sort((a, b) => a.fromMonths - b.fromMonths);
  sorted.forEach(({ fromMonths, toMonths }, at) => {
    if (!(fromMonths < toMonths) || (at > 0 && fromMonths < sorted[at - 1].toMonths)) {
      throw new InputError(
        `${caller} requires age bands that do not overlap, got ${fromMonths} to ${toMonths} months`,
      );
    }
  });
  return Int32Array.from({ length: ageMonths.length }, (_, row) => {
    const age = ageMonths[row];
    return bands.findIndex(({ fromMonths, toMonths }) => age >= fromMonths && age < toMonths);
  });
}

export const bandText = ({ fromMonths, toMonths }: AgeBand): string =>
  `${fromMonths} to below ${toMonths} months`;

/** The rows of one band, column by column. */
export function takeRows<T>(column: ArrayLike<T>, rows: readonly number[]): T[] {
  return rows.map((row) => column[row]);
}

/** Row numbers by band, and how many rows are in none. */
export function rowsOfBands(
  ofRow: Int32Array,
  count: number,
): { readonly rows: number[][]; readonly outside: number } {
  const rows = Array.from({ length: count }, (): number[] => []);
  let outside = 0;
  ofRow.forEach((band, row) => {
    if (band < 0) outside++;
    else rows[band].push(row);
  });
  return { rows, outside };
}
