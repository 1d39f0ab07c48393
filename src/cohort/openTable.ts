import { readFile } from "node:fs/promises";
import { basename } from "node:path";
import { InputError } from "../results/index.js";
import type { ColumnMapping } from "./columnMapping.js";
import type { ProblemLog } from "./problemLog.js";
import { readTextTable } from "./readTextTable.js";
import { type TextTable, tableOf } from "./textTable.js";

/** One row in memory: cells by column name. */
export interface SourceRow {
  readonly [column: string]: string | number | boolean | null | undefined;
}

/** A path to a file, or rows in memory. */
export type Source = string | readonly SourceRow[];

/** Name of a source as problems give it: the file's name without its folder. */
export function sourceName(source: Source): string {
  return typeof source === "string" ? basename(source) : "rows";
}

/** Opens a source as a table of text. */
export async function openTable(
  source: Source,
  text: NonNullable<ColumnMapping["text"]>,
  log: ProblemLog,
  caller: string,
): Promise<TextTable> {
  if (typeof source !== "string") return tableOfRows(source, caller);
  if (/^[a-z][a-z0-9+.-]+:\/\//i.test(source)) {
    throw new InputError(`${caller} requires a path to a file, got a web address`);
  }
  let bytes: Buffer;
  try {
    bytes = await readFile(source);
  } catch {
    throw new InputError(`${caller} requires a readable file, got ${basename(source)}`);
  }
  return readTextTable(
    sourceName(source),
    new TextDecoder("utf-8").decode(bytes),
    text,
    log,
    caller,
  );
}

function tableOfRows(rows: readonly SourceRow[], caller: string): TextTable {
  if (rows.length === 0) throw new InputError(`${caller} requires rows, got none`);
  const header = [...new Set(rows.flatMap((row) => Object.keys(row)))];
  const records = rows.map((row) =>
    header.map((name) => {
      const value = Object.hasOwn(row, name) ? row[name] : null;
      return value === null || value === undefined || Number.isNaN(value) ? "" : String(value);
    }),
  );
  return tableOf("rows", header, records, { line: (row) => row + 1 });
}
