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
import { type NumberStyle, percent, styledNumbers } from "../rows/index.js";
import { plainTexts } from "../text/index.js";
import { type ColumnPlace, placeOf } from "./decimalPlaces.js";
import { estimateDecimals, numberText } from "./numberText.js";

/** How a table is printed. */
export interface PrintOptions {
  /** Signs of decimals and thousands; by default "0.95" and "20,000". */
  readonly numbers?: NumberStyle;
}

/** A cell as text, with the letters of its footnotes. */
export interface PrintedCell {
  readonly text: string;
  readonly mark: string;
  readonly numeric: boolean;
}

interface PrintedRow {
  readonly heading: boolean;
  readonly cells: readonly PrintedCell[];
}

interface PrintedColumn extends ColumnPlace {
  /** Label with its unit in brackets. */
  readonly label: string;
  /** The letter of the footnote that says how the intervals of the column were made. */
  readonly mark: string;
}

/** A table with every number rounded, every interval's method and missing answer footnoted; writers only escape it. */
export interface PrintedTable {
  readonly title: string;
  readonly columns: readonly PrintedColumn[];
  readonly rows: readonly PrintedRow[];
  readonly footnotes: readonly { readonly mark: string; readonly text: string }[];
  readonly notes: readonly string[];
}

/**
 * Rounds by the stated rules (see numberText) and letters the footnotes in reading order: the method of
 * intervals at the heading of a column that has one, at each cell of a column that has several.
 */
export function printedTable(given: TableModel, { numbers }: PrintOptions = {}): PrintedTable {
  const table = plainTexts(given);
  const marks = new Map<string, string>();
  const footnote = (reason: string) => {
    const mark = marks.get(reason) ?? letter(marks.size);
    marks.set(reason, mark);
    return mark;
  };
  const level = commonLevel(table);
  const styled = (text: string) => (numbers === undefined ? text : styledNumbers(text, numbers));
  const methodNote = (method: string) =>
    footnote(
      `${level === null ? "Interval" : styled(`In brackets, ${percent(level)} interval`)}: ${methodName(method)}`,
    );
  const headings = table.columns.map((_, at) => {
    const methods = new Set(table.rows.flatMap(({ cells }) => intervalMethod(cells[at]) ?? []));
    const names = new Set([...methods].map(methodName));
    return { mark: names.size === 1 ? methodNote([...methods][0]!) : "", mixed: names.size > 1 };
  });
  const printed = (row: TableModel["rows"][number]) => ({
    heading: row.heading ?? false,
    cells: table.columns.map((column, at) => {
      const given = row.cells[at] ?? null;
      const method = headings[at]!.mixed ? intervalMethod(given) : undefined;
      const own = method === undefined ? [] : [methodNote(method)];
      const cell = printedCell(given, cellFormat(column, row), { level, footnote });
      return {
        ...cell,
        text: typeof given === "string" ? cell.text : styled(cell.text),
        mark: [...own, ...(cell.mark === "" ? [] : [cell.mark])].join(", "),
      };
    }),
  });
  const rows: PrintedRow[] = [];
  for (const row of table.rows) {
    const above = row.shareOfAbove === true ? rows.pop() : undefined;
    rows.push(above === undefined ? printed(row) : withShares(above, printed(numbersOf(row))));
  }
  return {
    title: table.title,
    columns: table.columns.map(({ label, unit, format }, at) => ({
      label: unit === undefined ? label : `${label} (${unit})`,
      mark: headings[at]!.mark,
      ...(format === "text" ? words : placeOf(rows.flatMap(({ cells }) => filled(cells[at]!)))),
    })),
    rows,
    footnotes: [...marks].map(([text, mark]) => ({ mark, text })),
    notes: table.notes,
  };
}

const words: ColumnPlace = { align: "left", whole: 0 };

const filled = ({ text }: PrintedCell) => (text === "" ? [] : [text]);

/** How the interval that a cell shows was made; undefined of a cell without one. */
function intervalMethod(cell: TableCell | undefined): string | undefined {
  if (typeof cell !== "object" || cell === null || cell.kind === "suppressed") return undefined;
  if (cell.kind === "undefined" && (cell.low === undefined || cell.high === undefined)) {
    return undefined;
  }
  return cell.method;
}

/** What the columns' intervals were made by, for a form that has no marks: "bias (D): Wilson". */
export function intervalNotes({ columns, rows }: TableModel): string[] {
  return columns.flatMap(({ label, unit }, at) => {
    const methods = rows.flatMap(({ cells }) => intervalMethod(cells[at]) ?? []);
    const names = [...new Set(methods.map(methodName))];
    const column = unit === undefined ? label : `${label} (${unit})`;
    return names.length === 0 ? [] : [`Intervals of "${column}": ${names.join("; ")}`];
  });
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

/** a, b, … z, aa, ab, … */
function letter(index: number): string {
  const last = String.fromCharCode(97 + (index % 26));
  return index < 26 ? last : letter(Math.floor(index / 26) - 1) + last;
}
