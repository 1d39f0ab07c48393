import { InputError } from "../../results/index.js";
import type { ColumnMapping } from "../columnMapping.js";
import type { ProblemLog } from "../problemLog.js";
import { plainLines } from "./plainLines.js";
import { type TextTable, tableOf } from "./textTable.js";
import { type TextRows, unquotedRows } from "./unquotedRows.js";

export interface TextHeader {
  readonly names: readonly string[];
  readonly delimiter: string;
}

const format = {
  bom: true,
  relax_column_count: true,
  relax_quotes: true,
  max_record_size: 1_000_000,
} as const;

/**
 * A table from delimited text. Rows with too many or too few cells are listed and rejected; quoted
 * line breaks are part of a cell; blank lines are no rows.
 *
 * @throws InputError for text without a header, without rows, or that is no delimited text
 */
export async function readTextTable(
  file: string,
  text: string,
  { delimiter, decimal }: NonNullable<ColumnMapping["text"]>,
  log: ProblemLog,
  caller: string,
): Promise<TextTable> {
  if (text.trim() === "") {
    throw new InputError(
      `${caller} requires a file with rows, got an empty one (${file}); export it once more`,
    );
  }
  const mark = delimiter ?? likelyDelimiter(text);
  const lines = plainLines(mark, file, caller);
  lines.take(new TextEncoder().encode(text));
  lines.end();
  const parsed = unquotedRows(text, mark) ?? (await quotedRows(text, mark, file, caller));
  const header = parsed.records[0].map((name) => name.trim());
  const rest = parsed.records.length - 1;
  const records: string[][] = [];
  const lineOf: number[] = [];
  for (let row = 1; row <= rest; row++) {
    const record = parsed.records[row];
    const line = parsed.lines[row];
    // a delimiter at the end of a line is no cell of its own
    if (record.length === header.length + 1 && record.at(-1) === "") record.pop();
    if (record.length === header.length) {
      records.push(record);
      lineOf.push(line);
    } else {
      log.add(line, null, `${record.length} cells`, "ragged-row", "row-rejected");
    }
  }
  if (records.length < rest / 2) {
    const names = namesBelow(parsed);
    if (names !== null && names.cells > header.length) {
      throw new InputError(
        `${caller} requires the names of the columns in the first line of ${file}, got ${header.length} cells there and ` +
          `${names.cells} in line ${names.line}, where the names seem to stand; take the ${names.line - 1} lines above it away in a copy`,
      );
    }
  }
  if (records.length === 0) {
    const rejected = rest === 0 ? "none" : `${rest} of another width`;
    throw new InputError(
      `${caller} requires at least one row under the header, got ${rejected} (${file}); look at the delimiter ("text": { "delimiter": … }) and at the first line`,
    );
  }
  return tableOf(file, header, records, { decimal, line: (row) => lineOf[row] });
}

/** Rows of a text with quotes, by the library. */
async function quotedRows(
  text: string,
  delimiter: string,
  file: string,
  caller: string,
): Promise<TextRows> {
  const { parse } = await import("csv-parse/sync");
  try {
    const options = { ...format, delimiter, info: true, skip_empty_lines: true };
    const parsed = parse(text, options) as unknown as Parsed[];
    return {
      records: parsed.map(({ record }) => record),
      lines: parsed.map(({ info }) => info.lines),
    };
  } catch (error) {
    const reason = error instanceof Error ? error.message.split("\n")[0] : String(error);
    throw new InputError(`${caller} requires delimited text, got ${file}: ${reason}`);
  }
}

interface Parsed {
  readonly record: string[];
  readonly info: { readonly lines: number };
}

/** The first of the rows that nearly all others are as wide as: titles may stand above the names. */
function namesBelow({ records, lines }: TextRows): { line: number; cells: number } | null {
  const rows = records.slice(1);
  const cells = rows.at(-1)?.length ?? 0;
  const first = rows.findIndex(({ length }) => length === cells);
  const named = rows[first]?.filter((cell) => /\p{L}/u.test(cell)).length ?? 0;
  const alike = rows.filter(({ length }) => length === cells).length;
  return cells > 2 &&
    first < 20 &&
    named > cells / 2 &&
    alike > 1 &&
    alike >= 0.8 * (rows.length - first)
    ? { line: lines[first + 1], cells }
    : null;
}

/** The header of a text of which only the beginning is at hand. */
export async function headerOfText(
  start: string,
  delimiter: string | undefined,
  file: string,
  caller: string,
): Promise<TextHeader> {
  if (firstLine(start).trim() === "") {
    throw new InputError(
      `${caller} requires a header in the first line, got none (${file}); the first line has to hold the names of the columns`,
    );
  }
  const { parse } = await import("csv-parse/sync");
  const mark = delimiter ?? likelyDelimiter(start);
  let names: string[];
  try {
    [names = []] = parse(start, { ...format, delimiter: mark, to: 1 }) as string[][];
  } catch {
    throw new InputError(
      `${caller} requires quotes that are closed, got one in line 1 of ${file} that takes in lines below; close it`,
    );
  }
  return { names: names.map((name) => name.trim()), delimiter: mark };
}

function firstLine(text: string): string {
  const end = text.search(/[\r\n]/);
  return end < 0 ? text : text.slice(0, end);
}

/** The most frequent of the usual delimiters in the first line, outside of quotes. */
function likelyDelimiter(text: string): string {
  const line = firstLine(text).replace(/"[^"]*"/g, "");
  const counts = [",", ";", "\t", "|"].map((mark) => ({ mark, count: line.split(mark).length }));
  return counts.toSorted((a, b) => b.count - a.count)[0].mark;
}
