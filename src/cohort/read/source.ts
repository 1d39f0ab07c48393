import type { TextTable } from "./textTable.js";

/** One row in memory: cells by column name. */
export interface SourceRow {
  readonly [column: string]: string | number | boolean | null | undefined;
}

/** Delimited text that is in memory already. */
export interface SourceText {
  readonly text: string;
  /** Name that problems give it. */
  readonly name?: string;
}

/** A path to a CSV, TSV (gzipped too), XLSX or Parquet file, rows, or delimited text. */
export type Source = string | readonly SourceRow[] | SourceText;

/** Which columns are read as numbers, and between which limits they need no second look. */
export interface ColumnUse {
  readonly numeric: ReadonlyMap<number, readonly [number, number]>;
  readonly coded: ReadonlySet<number>;
}

/** A source whose header is known and whose rows come in one table or in many. */
export interface OpenSource {
  readonly file: string;
  readonly header: readonly string[];
  /** How many rows there probably are. */
  readonly rows: number;
  /** The file's line for a line of the tables, once all tables were seen. */
  readonly lineOf?: (line: number) => number;
  /** The rows, with the share of the whole that is then done. */
  readonly tables: (use: ColumnUse) => AsyncIterable<{ table: TextTable; done: number }>;
}
