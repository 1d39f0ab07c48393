import {
  type CellFormat,
  cellFormat,
  type Estimate,
  methodName,
  type TableCell,
  type TableModel,
  type TableRow,
  type Undefined,
} from "../results/index.js";
import { percent } from "../rows/index.js";
import { plainTexts } from "../text/index.js";
import { estimateDecimals, numberText } from "./numberText.js";

/** A cell as text, with the letter of its footnote. */
export interface PrintedCell {
  readonly text: string;
  readonly mark: string;
  readonly numeric: boolean;
}

interface PrintedRow {
  readonly heading: boolean;
  readonly cells: readonly PrintedCell[];
}

interface PrintedColumn {
  /** Label with its unit in brackets. */
  readonly label: string;
  /** Numbers stand to the right. */
  readonly numeric: boolean;
}

/** A table with every number rounded and every missing answer footnoted; writers only escape it. */
export interface PrintedTable {
  readonly title: string;
  readonly columns: readonly PrintedColumn[];
  readonly rows: readonly PrintedRow[];
  readonly footnotes: readonly { readonly mark: string; readonly text: string }[];
  readonly notes: readonly string[];
}

/** Rounds by the stated rules (see numberText) and numbers the footnotes in reading order. */
export function printedTable(given: TableModel): PrintedTable {
  const table = plainTexts(given);
  const marks = new Map<string, string>();
  const footnote = (reason: string) => {
    const mark = marks.get(reason) ?? letter(marks.size);
    marks.set(reason, mark);
    return mark;
  };
  const level = commonLevel(table);
  const printed = (row: TableModel["rows"][number]) => ({
    heading: row.heading ?? false,
    cells: table.columns.map((column, at) =>
      printedCell(row.cells[at] ?? null, cellFormat(column, row), { level, footnote }),
    ),
  });
  const rows: PrintedRow[] = [];
  for (const row of table.rows) {
    const above = row.shareOfAbove === true ? rows.pop() : undefined;
    rows.push(above === undefined ? printed(row) : withShares(above, printed(numbersOf(row))));
  }
  return {
    title: table.title,
    columns: table.columns.map(({ label, unit, format }) => ({
      label: unit === undefined ? label : `${label} (${unit})`,
      numeric: format !== "text",
    })),
    rows,
    footnotes: [...marks].map(([text, mark]) => ({ mark, text })),
    notes: [...table.notes, ...(level === null ? [] : [intervalNote(table, level)])],
  };
}

const numbersOf = (row: TableRow): TableRow => ({
  ...row,
  cells: row.cells.map((cell) => (typeof cell === "number" ? cell : null)),
});

/** Counts with their shares in brackets; what has no count has no share either. */
function withShares(above: PrintedRow, { cells }: PrintedRow): PrintedRow {
  return {
    ...above,
    cells: above.cells.map((cell, at) =>
      cell.numeric && cell.mark === "" && cells[at]!.text !== ""
        ? { ...cell, text: `${cell.text} (${cells[at]!.text})` }
        : cell,
    ),
  };
}

function printedCell(
  cell: TableCell,
  format: CellFormat,
  context: { readonly level: number | null; readonly footnote: (reason: string) => string },
): PrintedCell {
  const plain = (text: string, numeric: boolean) => ({ text, mark: "", numeric });
  if (cell === null) return plain("", false);
  if (typeof cell === "string") return plain(cell, false);
  if (typeof cell === "number") {
    return Number.isNaN(cell)
      ? { text: "–", mark: context.footnote("not a number"), numeric: true }
      : plain(numberText(cell, numeric(format)), true);
  }
  if (cell.kind === "estimate") return plain(estimateText(cell, numeric(format), context), true);
  if (cell.kind === "one-sided") {
    const decimals = estimateDecimals(0.1, numeric(format));
    const [point, end] = [cell.value, (cell.low ?? cell.high)!].map((one) =>
      numberText(one, numeric(format), decimals),
    );
    const side = `${cell.low === null ? "at most" : "at least"} ${end}`;
    return {
      text: `${point} (${percent(cell.level)}: ${side})`,
      mark: context.footnote(cell.reason),
      numeric: true,
    };
  }
  const text = cell.kind === "undefined" ? knownText(cell, numeric(format)) : "–";
  return { text, mark: context.footnote(cell.reason), numeric: true };
}

/** What is known of a number that has no point: "at least 2.10", "(0.79 to 0.90)", or nothing. */
function knownText({ low, high }: Undefined, format: CellFormat): string {
  if (low === undefined) return "–";
  if (high === undefined) return `at least ${numberText(low, format)}`;
  return `(${numberText(low, format).replace(/ %$/, "")} to ${numberText(high, format)})`;
}

/** "0.85 (0.79 to 0.90)"; a level that not all estimates of the table share is printed too. */
function estimateText(
  { value, low, high, level }: Estimate,
  format: CellFormat,
  context: { readonly level: number | null },
): string {
  const decimals = estimateDecimals(high - low, format);
  const print = (number: number) => numberText(number, format, decimals);
  // the level that ranks reach is no round number
  const label = context.level === level ? "" : `${percent(Number(level.toFixed(4)))}: `;
  const bare = (text: string) => text.replace(/ %$/, "");
  return `${print(value)} (${label}${bare(print(low))} to ${bare(print(high))})`;
}

function numeric(format: CellFormat): CellFormat {
  return format === "text" ? "number" : format;
}

function estimates({ rows }: TableModel): readonly Estimate[] {
  return rows.flatMap(({ cells }) =>
    cells.filter(
      (cell): cell is Estimate =>
        typeof cell === "object" && cell !== null && cell.kind === "estimate",
    ),
  );
}

/** The level that every estimate of the table has; null without estimates or a common level. */
function commonLevel(table: TableModel): number | null {
  const levels = new Set(estimates(table).map(({ level }) => level));
  return levels.size === 1 ? [...levels][0]! : null;
}

function intervalNote(table: TableModel, level: number): string {
  const methods = [...new Set(estimates(table).map(({ method }) => methodName(method)))].sort();
  return `In brackets: ${percent(level)} intervals (${methods.join("; ")}).`;
}

/** a, b, … z, aa, ab, … */
function letter(index: number): string {
  const last = String.fromCharCode(97 + (index % 26));
  return index < 26 ? last : letter(Math.floor(index / 26) - 1) + last;
}
