import { parse } from "csv-parse/sync";
import { InputError } from "../results/index.js";
import { printedMeasures } from "./printedMeasures.js";

/** One row of a typed table: what stands in print, as text, by the name of its column. */
export interface PrintedRow {
  readonly label: string;
  /** What is printed, by column; empty cells left out. */
  readonly cells: Readonly<Record<string, string>>;
}

/** Columns of known counts, then printed numbers, then words. */
const printedColumns = {
  counts: [
    "n",
    "withCondition",
    "testPositive",
    "truePositive",
    "falsePositive",
    "falseNegative",
    "trueNegative",
    "screened",
    "referred",
    "examined",
  ],
  printed: [
    ...printedMeasures,
    "attendance",
    "foundOfScreened",
    "bias",
    "mean",
    "sd",
    "se",
    "limits",
    "interval",
  ],
  words: ["unit", "printedAs", "step", "source"],
} as const;

const known = new Set<string>([
  "label",
  ...printedColumns.counts,
  ...printedColumns.printed,
  ...printedColumns.words,
]);

const caller = "readPrintedRows";

/**
 * Reads a printed table that somebody typed: CSV with a heading, or JSON (a list of objects), one
 * row a paper or analysis, a blank where nothing is printed.
 *
 * Columns: `label`; counts that are known (`n`, also as "659-709", `withCondition`, `testPositive`, the four cells,
 * or of a programme `screened`, `referred`, `examined`); printed numbers as they stand, with an
 * interval behind them if there is one, such as "52.27 (42.36-62.01)": the measures of
 * `accuracyFromCounts` and `overallAccuracy`, `attendance` (examined of referred),
 * `foundOfScreened`, `bias`, `sd` and `limits` ("-0.94 to 4.85"), `mean`, `se` and `interval`; and
 * `unit` ("percent" or "proportion"), `printedAs`, `step`, `source`. In JSON printed numbers are strings,
 * since 93.10 would lose its last digit; in a spreadsheet the columns are to be formatted as text.
 *
 * @param text the contents of the file
 * @throws when the text is neither, a column is unknown, a label is missing or used twice, or a
 * printed number in JSON is no string
 *
 * @example
 * readPrintedRows("label,n,sensitivity\nA,185,100 (85.18-100)")[0].cells.sensitivity // => "100 (85.18-100)"
 */
export function readPrintedRows(text: string): PrintedRow[] {
  const trimmed = text.replace(/^\uFEFF/, "").trim();
  if (trimmed === "") throw new InputError(`${caller} requires a table, got an empty text`);
  const records = trimmed.startsWith("[") ? fromJson(trimmed) : fromCsv(trimmed);
  const labels = new Set<string>();
  return records.map((record, at) => {
    const { label = "", ...cells } = record;
    if (label === "" || labels.has(label)) {
      throw new InputError(
        `${caller} requires a label of its own in every row, got ${label === "" ? "none" : `"${label}" again`} in row ${at + 1}`,
      );
    }
    labels.add(label);
    return { label, cells };
  });
}

function fromCsv(text: string): Record<string, string>[] {
  let lines: string[][];
  try {
    lines = parse(text, { trim: true, skip_empty_lines: true }) as string[][];
  } catch (error) {
    throw new InputError(`${caller} requires a CSV of even rows, got: ${(error as Error).message}`);
  }
  const [heading = [], ...rows] = lines;
  requireColumns(heading);
  if (new Set(heading).size < heading.length) {
    throw new InputError(`${caller} requires each column once, got ${heading.join(", ")}`);
  }
  if (rows.length === 0) throw new InputError(`${caller} requires rows, got the heading only`);
  return rows.map((row) =>
    Object.fromEntries(row.flatMap((cell, at) => (cell === "" ? [] : [[heading[at]!, cell]]))),
  );
}

function fromJson(text: string): Record<string, string>[] {
  let rows: unknown;
  try {
    rows = JSON.parse(text);
  } catch (error) {
    throw new InputError(`${caller} requires JSON, got: ${(error as Error).message}`);
  }
  if (!Array.isArray(rows) || rows.length === 0) {
    throw new InputError(
      `${caller} requires a list of rows, got ${Array.isArray(rows) ? "none" : typeof rows}`,
    );
  }
  return rows.map((row: unknown, at) => {
    if (typeof row !== "object" || row === null || Array.isArray(row)) {
      throw new InputError(`${caller} requires an object in each row, got ${JSON.stringify(row)}`);
    }
    requireColumns(Object.keys(row));
    return Object.fromEntries(
      Object.entries(row).flatMap(([column, value]) => {
        if (value === null || value === "") return [];
        if (typeof value === "string") return [[column, value]];
        if (
          typeof value === "number" &&
          !(printedColumns.printed as readonly string[]).includes(column)
        ) {
          return [[column, String(value)]];
        }
        throw new InputError(
          `${caller} requires ${column} as a string in row ${at + 1}, so that its decimals count, got ${JSON.stringify(value)}`,
        );
      }),
    );
  });
}

function requireColumns(columns: readonly string[]): void {
  for (const column of columns) {
    if (!known.has(column)) {
      throw new InputError(
        `${caller} requires columns among ${[...known].join(", ")}, got "${column}"`,
      );
    }
  }
}
