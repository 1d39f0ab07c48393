import type { Estimate, OneSided, Undefined } from "./estimate.js";

/** How a writer rounds and prints the numbers of a column, a row or a cell. */
export type CellFormat =
  | "text"
  | "count"
  | "dioptres"
  | "percent"
  | "proportion"
  | "ratio"
  | "per-1000"
  | "p"
  | "number";

/** A cell that may not be shown because its count is small. */
export interface Suppressed {
  readonly kind: "suppressed";
  readonly reason: string;
}

export type TableCell = string | number | null | Estimate | OneSided | Undefined | Suppressed;

export interface TableColumn {
  readonly label: string;
  readonly unit?: string;
  readonly format: CellFormat;
  /** Rows do not override this column's format. */
  readonly keepsFormat?: true;
}

export interface TableRow {
  readonly cells: readonly TableCell[];
  /** Overrides the columns' formats for this row, save in columns that keep theirs. */
  readonly format?: CellFormat;
  /** A row that opens a group; its first cell is the group's name. */
  readonly heading?: boolean;
  /** Shares of the counts in the row above: print sets each behind its count, "233 (40.6 %)", and has no row of its own. */
  readonly shareOfAbove?: true;
  /** How many values are behind each cell, such as behind a mean; null where that is not said. It is not printed. */
  readonly behind?: readonly (number | null)[];
}

/** A table as data: unrounded numbers; rounding and escaping happen in the writer. */
export interface TableModel {
  readonly kind: "table";
  readonly title: string;
  readonly columns: readonly TableColumn[];
  readonly rows: readonly TableRow[];
  readonly notes: readonly string[];
}

/** How the numbers of a cell are printed. */
export function cellFormat(column: TableColumn, row: Pick<TableRow, "format">): CellFormat {
  return column.keepsFormat ? column.format : (row.format ?? column.format);
}
