import { InputError } from "../../results/index.js";
import type { OwnValues } from "../link/ownValues.js";
import type { CohortTable, EyeTableColumns } from "./cohortTable.js";

/** One row of a table of eyes, as a condition or a grouping sees it. */
export type EyeRow = {
  readonly [Name in keyof EyeTableColumns]: EyeTableColumns[Name][number];
} & {
  /** The user's own columns of the reading. */
  readonly readingOwn: Readonly<Record<string, string | number>>;
  /** The user's own columns of the finding. */
  readonly findingOwn: Readonly<Record<string, string | number>>;
};

/** A column by its name, or what is worked out of a row, such as an age band. */
export type EyeValue = keyof EyeTableColumns | ((row: EyeRow) => string | number);

/** The rows of a table as objects. */
export function eyeRows({ n, columns, own }: CohortTable): EyeRow[] {
  const names = Object.keys(columns) as (keyof EyeTableColumns)[];
  const ownAt = (side: Readonly<Record<string, OwnValues>>, row: number) =>
    Object.fromEntries(Object.entries(side).map(([label, values]) => [label, values[row]!]));
  return Array.from({ length: n }, (_, row) => ({
    ...(Object.fromEntries(names.map((name) => [name, columns[name][row]])) as unknown as EyeRow),
    readingOwn: ownAt(own.reading, row),
    findingOwn: ownAt(own.finding, row),
  }));
}

/** A value of every row. */
export function valuesOf(
  caller: string,
  table: CohortTable,
  wanted: EyeValue,
): readonly (string | number)[] {
  if (typeof wanted !== "function") {
    return Array.from<string | number>(table.columns[wanted] as ArrayLike<string | number>);
  }
  return eyeRows(table).map((row, at) => {
    const value: unknown = wanted(row);
    if (typeof value === "string" || typeof value === "number") return value;
    throw new InputError(
      `${caller} requires a word or a number of each row, got ${value} at row ${at}`,
    );
  });
}

/** "" and NaN. */
export const isMissing = (value: string | number): boolean => value === "" || Number.isNaN(value);

/** The table with these rows alone, in this order. */
export function atEyes(table: CohortTable, rows: readonly number[]): CohortTable {
  const at = <Values extends OwnValues>(values: Values): Values =>
    (values instanceof Float64Array
      ? Float64Array.from(rows, (row) => values[row]!)
      : rows.map((row) => values[row])) as Values;
  const all = <Columns extends object>(columns: Columns): Columns =>
    Object.fromEntries(
      Object.entries(columns).map(([name, values]) => [name, at(values)]),
    ) as Columns;
  const columns = all(table.columns);
  return {
    ...table,
    n: rows.length,
    children: new Set(columns.subject).size,
    columns,
    own: { reading: all(table.own.reading), finding: all(table.own.finding) },
  };
}
