import { InputError } from "../../results/index.js";
import type { CohortTable } from "./cohortTable.js";
import { atEyes, type EyeRow, type EyeValue, eyeRows, isMissing, valuesOf } from "./eyeRows.js";

/**
 * The eyes for which a condition holds. A comparison with a missing number is false, so eyes without it are
 * left out of `row.readingM < -3` and of its opposite alike.
 *
 * @param keep a condition of one row, `row.readingM <= -3 && row.site === "North"`
 * @throws InputError when the condition gives anything but true or false
 * @example
 * const eyes = [-1, -4].map((sphere, at) => ({ subject: String(at), eye: "OD", sphere, cylinder: 0, axis: 0 }));
 * const cohort = linkCohort({ readings: await readReadings(eyes), findings: await readFindings(eyes) });
 * filterEyes(cohortTable(cohort), (row) => row.readingM <= -3).n // => 1
 */
export function filterEyes(table: CohortTable, keep: (row: EyeRow) => boolean): CohortTable {
  const rows = eyeRows(table).flatMap((row, at) => {
    const kept: unknown = keep(row);
    if (typeof kept !== "boolean") {
      throw new InputError(
        `filterEyes requires a condition that is true or false, got ${kept} at row ${at}`,
      );
    }
    return kept ? [at] : [];
  });
  return atEyes(table, rows);
}

/**
 * The eyes in the order of a column, or of what is worked out of a row; ties stay in their order. Missing
 * values come last, whichever way the order goes.
 *
 * @param by a column by its name, or what is worked out of a row
 * @throws InputError where words and numbers are mixed
 * @example
 * const eyes = [-1, -4, -2].map((sphere, at) => ({ subject: String(at), eye: "OD", sphere, cylinder: 0, axis: 0 }));
 * const cohort = linkCohort({ readings: await readReadings(eyes), findings: await readFindings(eyes) });
 * sortEyes(cohortTable(cohort), "readingM").columns.readingM // => [-4, -2, -1]
 */
export function sortEyes(
  table: CohortTable,
  by: EyeValue,
  options: {
    /** "ascending" by default. */
    readonly order?: "ascending" | "descending";
  } = {},
): CohortTable {
  const { order = "ascending" } = options;
  const values = valuesOf("sortEyes", table, by);
  requireOneType("sortEyes", values);
  const sign = order === "descending" ? -1 : 1;
  const rows = values
    .map((_value, row) => row)
    .sort((one, other) => {
      const [a, b] = [values[one]!, values[other]!];
      if (isMissing(a) || isMissing(b)) return Number(isMissing(a)) - Number(isMissing(b));
      return sign * compareValues(a, b);
    });
  return atEyes(table, rows);
}

/** Numbers by size, words by their letters. */
export function compareValues(one: string | number, other: string | number): number {
  if (one === other) return 0;
  return one < other ? -1 : 1;
}

/** A column is of words or of numbers, missing values aside. */
export function requireOneType(caller: string, values: readonly (string | number)[]): void {
  const types = new Set(values.filter((value) => !isMissing(value)).map((value) => typeof value));
  if (types.size > 1) {
    throw new InputError(`${caller} requires words or numbers, got both in one column`);
  }
}
