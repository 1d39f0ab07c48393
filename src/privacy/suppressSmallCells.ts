import {
  type CellFormat,
  cellFormat,
  formerNames,
  InputError,
  type Suppressed,
  type TableCell,
  type TableModel,
  type TableRow,
} from "../results/index.js";
import { requireWhole } from "../rows/index.js";
import { complementaryCells } from "./complementaryCells.js";

export interface SuppressionOptions {
  /** The least count that may be shown, 11 by default; 0 is shown. */
  readonly fewerThan?: number;
  /**
   * Along which lines a reader knows the sum of the counts, from the table or from elsewhere:
   * "columns", "rows" or "both" (default).
   */
  readonly sums?: "columns" | "rows" | "both";
  /** Which row and column hold the sums of the others, counted from 0; -1 is the last. */
  readonly totalRow?: number;
  readonly totalColumn?: number;
}

/**
 * A table for the public: counts below `fewerThan` are taken out, and so many more cells that no
 * sum, in the table or known from elsewhere, gives one back (complementary suppression).
 *
 * Counts are the numbers in columns (or rows) of format "count". In every line with a known sum
 * either none or at least two cells are out, the ones out add up to at least `fewerThan`, and no
 * single cell follows from the sums of several lines together (in the graph of rows and columns no
 * cell that is out is a bridge; Gusfield, SIAM J Comput 1988;17(3)). Every other number in a row with
 * a count taken out is taken out as well, and so is its share in a row of shares below (`shareOfAbove`), since a share
 * gives its count back. Counts of 0 are shown
 * unless they are needed as cover.
 *
 * @param table counts and what was computed from them
 * @throws when `fewerThan` is not a whole number of at least 2, or a count is negative or no
 *   whole number
 *
 * @example
 * suppressSmallCells({ kind: "table", title: "", columns: [{ label: "n", format: "count" }], rows: [{ cells: [4] }, { cells: [60] }, { cells: [30] }], notes: [] }).rows.map((row) => typeof row.cells[0]) // => ["object", "number", "object"]
 */
export function suppressSmallCells(
  table: TableModel,
  options: SuppressionOptions = {},
): TableModel {
  const {
    fewerThan = 11,
    sums = "both",
    totalRow,
    totalColumn,
  } = formerNames("suppressSmallCells", options, "smallCells");
  requireWhole("suppressSmallCells", "fewerThan", fewerThan, 2);
  const lines = table.rows
    .map((row, at) => ({ ...row, at }))
    .filter(({ heading, cells }) => !heading || cells.some((cell) => typeof cell === "number"));
  const counts = lines.map((line) =>
    table.columns.map((column, at) => countIn(line.cells[at] ?? null, cellFormat(column, line))),
  );
  const out = complementaryCells(counts, {
    fewerThan,
    sums,
    totalRow: lines.findIndex(({ at }) => at === fromEnd(totalRow, table.rows.length)),
    totalColumn: fromEnd(totalColumn, table.columns.length) ?? -1,
  });
  const rows = table.rows.map((row, rowAt) => {
    const line = lines.findIndex(({ at }) => at === rowAt);
    if (line < 0 || !out[line]!.some(Boolean)) return row;
    return {
      ...row,
      cells: row.cells.map((cell, at) => {
        const isCount = counts[line]![at] !== null;
        const hidden = isCount ? out[line]![at]! : isNumeric(cell);
        return hidden ? suppressed(fewerThan) : cell;
      }),
    };
  });
  rows.forEach((row, at) => {
    // a share gives its count back
    if (row.shareOfAbove === true && at > 0) rows[at] = hiddenAsAbove(row, rows[at - 1]!);
  });
  const any = out.some((line) => line.some(Boolean));
  const note = `Counts below ${fewerThan}, and others that would give them back, are not shown.`;
  return { ...table, rows, notes: any ? [...table.notes, note] : table.notes };
}

function hiddenAsAbove(row: TableRow, above: TableRow): TableRow {
  const isHidden = (cell: TableCell | undefined) =>
    typeof cell === "object" && cell !== null && cell.kind === "suppressed";
  const cells = row.cells.map((cell, at) => (isHidden(above.cells[at]) ? above.cells[at]! : cell));
  return { ...row, cells };
}

function countIn(cell: TableCell, format: CellFormat): number | null {
  if (format !== "count" || typeof cell !== "number") return null;
  if (!Number.isInteger(cell) || cell < 0) {
    throw new InputError(`suppressSmallCells requires whole counts of at least 0, got ${cell}`);
  }
  return cell;
}

function isNumeric(cell: TableCell): boolean {
  return cell !== null && typeof cell !== "string";
}

function suppressed(fewerThan: number): Suppressed {
  return { kind: "suppressed", reason: `not shown, to protect counts below ${fewerThan}` };
}

function fromEnd(index: number | undefined, length: number): number | undefined {
  return index !== undefined && index < 0 ? length + index : index;
}
