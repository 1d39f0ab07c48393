import { InputError, type RunOptions } from "../../results/index.js";
import type { ColumnMapping } from "../columnMapping.js";
import { problemLog } from "../problemLog.js";
import type { Problem } from "../types.js";
import { openSource, sourceName } from "./openSource.js";
import type { Source } from "./source.js";

/** A whole table, each column as codes into its distinct cells (blanks around them taken off). */
export interface CodedTable {
  readonly file: string;
  readonly header: readonly string[];
  readonly n: number;
  readonly columns: readonly { readonly codes: Int32Array; readonly labels: readonly string[] }[];
  /** Each row's line in the file. */
  readonly line: Int32Array;
  /** Rows of another width than the header. */
  readonly rejected: readonly Problem[];
}

/**
 * Reads a whole table for rewriting: every cell is kept, each distinct one as text once, so that a
 * million rows fit and what is asked of a column is asked of its distinct cells.
 *
 * @throws InputError for what is no file, or no table
 */
export async function readCoded(
  source: Source,
  text: NonNullable<ColumnMapping["text"]>,
  caller: string,
  { signal, onProgress }: RunOptions = {},
): Promise<CodedTable> {
  const log = problemLog(sourceName(source));
  const opened = await openSource(source, text, log, caller);
  const coded = new Set(opened.header.keys());
  const parts: Int32Array[][] = opened.header.map(() => []);
  const labels: (readonly string[])[] = opened.header.map(() => []);
  const lines: Int32Array[] = [];
  let n = 0;
  for await (const { table, done } of opened.tables({ numeric: new Map(), coded })) {
    signal?.throwIfAborted();
    for (const column of coded) {
      const cells = table.coded(column);
      // the arrays of a scanned file are written again for its next table
      parts[column].push(cells.codes.slice());
      labels[column] = cells.labels;
    }
    lines.push(Int32Array.from({ length: table.n }, (_, row) => table.line(row)));
    n += table.n;
    onProgress?.({ stage: `reading ${opened.file}`, done });
  }
  if (n === 0) {
    throw new InputError(
      `${caller} requires at least one row under the header, got none (${opened.file}); export it once more, with its rows`,
    );
  }
  const line = joined(lines, n);
  return {
    file: opened.file,
    header: opened.header,
    n,
    columns: parts.map((codes, column) => ({ codes: joined(codes, n), labels: labels[column] })),
    line: opened.lineOf === undefined ? line : line.map(opened.lineOf),
    rejected: log.problems,
  };
}

function joined(parts: readonly Int32Array[], n: number): Int32Array {
  if (parts.length === 1) return parts[0];
  const all = new Int32Array(n);
  let at = 0;
  for (const part of parts) {
    all.set(part, at);
    at += part.length;
  }
  return all;
}
