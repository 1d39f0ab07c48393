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
 * gives its count back. In a row without counts (means, SDs, quantiles) a number is taken out where fewer than
 * `fewerThan` values are behind it (`behind`, which is not kept), where another cell must go out lest its own number of
 * values follow, and where the first count of its column, the size of the group, is out; where it does not say what is
 * behind it, with the count above it; with it go numbers of the row
 * that compare columns. Counts of 0 are shown unless they are needed as cover.
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
  const settings = {
    fewerThan,
    sums,
    totalRow: lines.findIndex(({ at }) => at === fromEnd(totalRow, table.rows.length)),
    totalColumn: fromEnd(totalColumn, table.columns.length) ?? -1,
  };
  const behind = lines.map(({ behind: values }) =>
    values === undefined ? [] : complementaryCells([values], { ...settings, totalRow: -1 })[0]!,
  );
  const out = complementaryCells(counts, settings, behind);
  const sizes = table.columns.map((_, at) => counts.findIndex((line) => line[at] !== null));
  /** Of a row without counts: cells of few values, of groups whose size is out, or else below a count that is out. */
  const withoutCounts = (line: number) =>
    lines[line]!.cells.map((cell, at) => {
      const few = behind[line]![at];
      const above = counts.slice(0, line).findLastIndex((own) => own[at] !== null);
      const governing = few === undefined ? above : sizes[at]!;
      const isOut = governing >= 0 && out[governing]![at]!;
      return isNumeric(cell) && (few === true || isOut);
    });
  const hiddenIn = (line: number): readonly boolean[] => {
    const { cells } = lines[line]!;
    if (counts[line]!.some((count) => count !== null)) {
      const any = out[line]!.some(Boolean);
      return cells.map((cell, at) =>
        counts[line]![at] === null ? any && isNumeric(cell) : out[line]![at]!,
      );
    }
    const own = withoutCounts(line);
    const any = own.some(Boolean);
    // a number of a column without a size compares the others
    return own.map((hidden, at) => hidden || (any && sizes[at] === -1 && isNumeric(cells[at]!)));
  };
  let any = false;
  const rows = table.rows.map(({ behind: _, ...row }, rowAt): TableRow => {
    const line = lines.findIndex(({ at }) => at === rowAt);
    const hidden = line < 0 ? [] : hiddenIn(line);
    if (!hidden.some(Boolean)) return row;
    any = true;
    return {
      ...row,
      cells: row.cells.map((cell, at) => (hidden[at] ? suppressed(fewerThan) : cell)),
    };
  });
  rows.forEach((row, at) => {
    // a share gives its count back
    if (row.shareOfAbove === true && at > 0) rows[at] = hiddenAsAbove(row, rows[at - 1]!);
  });
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
