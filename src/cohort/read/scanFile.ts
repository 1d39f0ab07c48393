import type { DuckDBConnection, DuckDBInstance } from "@duckdb/node-api";
import {
  basename,
  databaseLibrary,
  partsOf,
  resolve,
  unzippedParts,
} from "../../platform/index.js";
import { InputError } from "../../results/index.js";
import type { ProblemLog } from "../problemLog.js";
import { inlineBytes } from "./cellVector.js";
import { chunkReader } from "./chunkTable.js";
import { plainLines } from "./plainLines.js";
import type { TextHeader } from "./readTextTable.js";
import type { ColumnUse, OpenSource } from "./source.js";
import { vectorAccess } from "./vectorAccess.js";

interface ScanOptions {
  /** Rows that the file probably has, for progress. */
  readonly rows: number;
  readonly decimal?: "." | ",";
  readonly zipped: boolean;
  readonly log: ProblemLog;
  readonly caller: string;
}

/**
 * A large delimited file, scanned in chunks. Columns are named by position, so that neither doubled
 * names nor names such as `__proto__` matter; every cell arrives as text and is cast here. Rows of
 * another width are listed with the number of their record.
 */
export async function scanText(
  path: string,
  { names, delimiter }: TextHeader,
  { rows, decimal = ".", zipped, log, caller }: ScanOptions,
): Promise<OpenSource> {
  const columns = names.map((_, index) => `'c${index}': 'VARCHAR'`).join(", ");
  const from =
    `read_csv($1, header = true, auto_detect = false, delim = ${literal(delimiter)}, quote = '"', ` +
    `escape = '"', columns = {${columns}}, compression = '${zipped ? "gzip" : "none"}', ` +
    "store_rejects = true, rejects_limit = 0, max_line_size = 1000000, buffer_size = 4000000)";
  let rejected: readonly number[] = [];
  return {
    file: basename(path),
    header: names,
    rows,
    get lineOf() {
      // without rejected records every line is as it was counted
      if (rejected.length === 0) return undefined;
      return (counted: number) => lineAmongRejected(counted, rejected);
    },
    async *tables(use) {
      await requirePlainLines(path, delimiter, zipped, caller);
      const source = {
        path,
        from,
        header: names,
        decimal,
        rows,
        caller,
        native: new Set<number>(),
      };
      yield* scan(source, use, async (connection) => {
        const faulty = await connection.runAndReadAll(
          "select line, error_type, csv_line from reject_errors order by line",
        );
        const wrong = faulty.getRows().find(([, type]) => /encod|unicode|utf/i.test(String(type)));
        if (wrong !== undefined) {
          throw new InputError(
            `${caller} requires utf-8 text or a declared encoding, got other bytes in line ${wrong[0]} of ` +
              `${basename(path)}; save it as UTF-8, or say what it is: "text": { "encoding": "latin1" }`,
          );
        }
        rejected = [...new Set(faulty.getRows().map(([line]) => Number(line)))];
        for (const line of rejected) log.add(line, null, "", "ragged-row", "row-rejected");
      });
    },
  };
}

/** One file alone: what the names of its folders say (site=a) is no column of it. */
const parquet = "read_parquet($1, hive_partitioning = false)";

/** A Parquet file, scanned in chunks. */
export async function scanParquet(
  path: string,
  decimal: "." | ",",
  caller: string,
): Promise<OpenSource> {
  const connection = await connect();
  let header: string[];
  let columns: { readonly name: string; readonly type: string }[];
  let rows: number;
  try {
    const described = await connection.runAndReadAll(`describe select * from ${parquet}`, [
      globLiteral(path),
    ]);
    header = described.getRows().map(([name]) => String(name));
    columns = described.getRows().map(([name, type]) => ({
      name: `"${String(name).replaceAll('"', '""')}"`,
      type: String(type),
    }));
    const counted = await connection.runAndReadAll(`select count(*) from ${parquet}`, [
      globLiteral(path),
    ]);
    rows = Number(counted.getRows()[0][0]);
  } catch (error) {
    throw scanError(error, path, caller);
  } finally {
    connection.closeSync();
  }
  return {
    file: basename(path),
    header,
    rows,
    lineOf: (counted) => counted - 1,
    tables(use) {
      const native = new Set(
        columns.flatMap(({ type }, at) =>
          nativeNumbers.has(type) && use.numeric.has(at) && !use.coded.has(at) ? [at] : [],
        ),
      );
      const cells = columns.map(
        ({ name, type }, at) => `${native.has(at) ? name : textOf(name, type)} as c${at}`,
      );
      const from = `(select ${cells.join(", ")} from ${parquet})`;
      return scan({ path, from, header, decimal, rows, caller, native }, use, async () => {});
    },
  };
}

/** Types whose numbers are those of their texts: a number of 32 bits with decimals is not. */
const nativeNumbers = new Set("DOUBLE TINYINT SMALLINT INTEGER BIGINT".split(" "));

/**
 * A column as text. Whole numbers become floating where a table writer had to leave cells empty: they
 * are written without ".0", so that subject 7 and code 1 are the same as in any other file, and
 * "not a number" is an empty cell, as it is in rows.
 */
function textOf(column: string, type: string): string {
  if (type !== "DOUBLE" && type !== "FLOAT") return `cast(${column} as varchar)`;
  return (
    `case when isnan(${column}) then null when ${column} = trunc(${column}) and abs(${column}) < 1e15 ` +
    `then cast(cast(${column} as bigint) as varchar) else cast(${column} as varchar) end`
  );
}

/** Looks through the whole text once before it is scanned. */
async function requirePlainLines(
  path: string,
  delimiter: string,
  zipped: boolean,
  caller: string,
): Promise<void> {
  const parts = (zipped ? unzippedParts : partsOf)(path, 1 << 20);
  const lines = plainLines(delimiter, basename(path), caller);
  try {
    for await (const part of parts) lines.take(part);
  } catch (error) {
    if (error instanceof InputError || !zipped) throw error;
    throw new InputError(
      `${caller} requires an intact gzip file, got a damaged one (${basename(path)})`,
    );
  }
  lines.end();
}

/**
 * Line of a row, from its number among the rows that were kept (header 1): record r of the sorted
 * rejected ones, the i-th, lies before it when r - i is not larger.
 */
function lineAmongRejected(counted: number, rejected: readonly number[]): number {
  let low = 0;
  let high = rejected.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (rejected[middle] - middle <= counted) low = middle + 1;
    else high = middle;
  }
  return counted + low;
}

interface Scan {
  readonly path: string;
  readonly from: string;
  readonly header: readonly string[];
  readonly decimal: "." | ",";
  readonly rows: number;
  readonly caller: string;
  /** Columns that are numbers in the file, and are read as such. */
  readonly native: ReadonlySet<number>;
}

async function* scan(
  { path, from, header, decimal, rows, caller, native }: Scan,
  use: ColumnUse,
  finish: (connection: DuckDBConnection) => Promise<void>,
) {
  const connection = await connect();
  try {
    const texts = header.flatMap((_, column) => (native.has(column) ? [] : [column]));
    const long = await longColumns(connection, path, from, texts);
    const access = await vectorAccess(connection);
    const reader = chunkReader(basename(path), header, use, { decimal, long, native, access });
    const result = await connection.stream(`select ${reader.select} from ${from}`, [
      globLiteral(path),
    ]);
    // the next chunk is scanned while this one is looked through
    let next = result.fetchChunk();
    for (;;) {
      const chunk = await next;
      if (chunk === null || chunk.rowCount === 0) break;
      next = result.fetchChunk();
      // whoever stops in between does not wait for it
      next.catch(() => {});
      const table = reader.table(chunk);
      yield { table, done: Math.min(1, reader.rowsSoFar() / rows) };
    }
    await finish(connection);
  } catch (error) {
    throw error instanceof InputError ? error : scanError(error, path, caller);
  } finally {
    connection.closeSync();
  }
}

/** Columns with a long cell among the first rows. */
async function longColumns(
  connection: DuckDBConnection,
  path: string,
  from: string,
  columns: readonly number[],
): Promise<ReadonlySet<number>> {
  if (columns.length === 0) return new Set();
  const lengths = columns.map((column) => `max(strlen(c${column}))`);
  const result = await connection.runAndReadAll(
    `select ${lengths.join(", ")} from (from ${from} limit 2048)`,
    [globLiteral(path)],
  );
  const [longest] = result.getRows();
  return new Set(
    longest.flatMap((length, at) => (Number(length) > inlineBytes ? columns[at]! : [])),
  );
}

let database: Promise<DuckDBInstance> | undefined;

async function connect(): Promise<DuckDBConnection> {
  database ??= openDatabase();
  return (await database).connect();
}

async function openDatabase(): Promise<DuckDBInstance> {
  const duckdb = await databaseLibrary();
  // nothing is fetched from anywhere, whatever a file asks for
  return duckdb.DuckDBInstance.create(":memory:", {
    autoinstall_known_extensions: "false",
    autoload_known_extensions: "false",
    memory_limit: "500MB",
    // one thread scans just ahead of the one that checks; two would wait for each other's rows, since
    // these come in their order
    threads: "1",
  });
}

function scanError(error: unknown, path: string, caller: string): InputError {
  const [first] = String(error instanceof Error ? error.message : error).split("\n");
  if (first.includes("invalid state")) {
    return new InputError(
      `${caller} requires lines that all end in the same way, got ${basename(path)}, where some end in ` +
        "another or a carriage return stands within one; saved anew by a spreadsheet it has one kind of line end",
    );
  }
  // DuckDB's messages name the whole path
  const reason = first.replaceAll(resolve(path), basename(path)).replaceAll(path, basename(path));
  return new InputError(`${caller} requires a table, got ${basename(path)}: ${reason}`);
}

/** DuckDB takes a path for a pattern, and a leading "~" for the home folder; this one means itself only. */
function globLiteral(path: string): string {
  return resolve(path).replace(/[[*?]/g, "[$&]");
}

function literal(text: string): string {
  return `'${text.replaceAll("'", "''")}'`;
}
