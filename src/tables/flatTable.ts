import {
  type CellFormat,
  cellFormat,
  type TableCell,
  type TableColumn,
  type TableModel,
} from "../results/index.js";

/** One field of a table for reuse: a text, an unrounded number, or nothing. */
export interface FlatField {
  readonly value: string | number | null;
  readonly format: CellFormat;
}

/**
 * A table with one value a field: a column that holds an interval becomes three (value, low, high), what
 * could not be estimated is written as its reason.
 */
export function flatTable({ columns, rows }: TableModel): {
  readonly header: readonly string[];
  readonly rows: readonly (readonly FlatField[])[];
} {
  const wide = columns.map((_, at) => rows.some(({ cells }) => isInterval(cells[at])));
  return {
    header: columns.flatMap((column, at) => {
      const label = labelOf(column);
      return wide[at] ? [label, `${label} low`, `${label} high`] : [label];
    }),
    rows: rows.map((row) =>
      columns.flatMap((column, at) => {
        const format = cellFormat(column, row);
        return fields(row.cells[at] ?? null, wide[at]!).map((value) => ({ value, format }));
      }),
    ),
  };
}

type Value = FlatField["value"];

function fields(cell: TableCell, wide: boolean): readonly Value[] {
  const padded = (...written: readonly Value[]) =>
    wide ? [...written, null, null].slice(0, 3) : written;
  if (cell === null || typeof cell === "string" || typeof cell === "number") {
    return padded(typeof cell === "number" ? written(cell) : cell);
  }
  switch (cell.kind) {
    case "estimate":
      return [cell.value, cell.low, cell.high].map(written);
    case "one-sided":
      return [cell.value, cell.low, cell.high].map(written);
    case "undefined":
      return padded(`not estimated: ${cell.reason}`, written(cell.low), written(cell.high));
    case "suppressed":
      return padded(`suppressed: ${cell.reason}`);
  }
}

/** Zero has no sign; what is no number is nothing. */
function written(value: number | null | undefined): number | null {
  return value == null || Number.isNaN(value) ? null : value === 0 ? 0 : value;
}

function isInterval(cell: TableCell | undefined): boolean {
  if (typeof cell !== "object" || cell === null) return false;
  return (
    cell.kind === "estimate" ||
    cell.kind === "one-sided" ||
    (cell.kind === "undefined" && cell.low !== undefined)
  );
}

function labelOf({ label, unit }: TableColumn): string {
  return unit === undefined ? label : `${label} (${unit})`;
}
