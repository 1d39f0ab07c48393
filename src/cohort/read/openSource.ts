import {
  basename,
  dirname,
  fileState,
  filesIn,
  has,
  readBytes,
  readStart,
  requireUnchanged,
  unzippedParts,
  whatIs,
} from "../../platform/index.js";
import { InputError } from "../../results/index.js";
import type { ColumnMapping } from "../columnMapping.js";
import type { ProblemLog } from "../problemLog.js";
import { decodeText } from "./decodeText.js";
import { headerOfText, readTextTable } from "./readTextTable.js";
import { scanParquet, scanText } from "./scanFile.js";
import { binaryFile, type FileFormat, sniffBytes } from "./sniffBytes.js";
import type { OpenSource, Source, SourceRow } from "./source.js";
import { type TextTable, tableOf } from "./textTable.js";

type TextOptions = NonNullable<ColumnMapping["text"]>;

/** Files from this size on are scanned by DuckDB, in chunks. */
const largeFile = 4_000_000;
/** A first line longer than this is no header. */
const longestHeader = 1_000_000;

/** Name of a source as problems give it: the file's name without its folder. */
export function sourceName(source: Source): string {
  if (typeof source === "string") return basename(source);
  return "text" in source ? (source.name ?? "text") : "rows";
}

/**
 * Opens a source: rows, small text and XLSX in memory; large text and Parquet through DuckDB.
 *
 * @throws InputError for what is no file, or no table
 */
export async function openSource(
  source: Source,
  text: TextOptions,
  log: ProblemLog,
  caller: string,
  { large = largeFile } = {},
): Promise<OpenSource> {
  const file = sourceName(source);
  if (typeof source !== "string") {
    return wholeTable(
      "text" in source
        ? await readTextTable(file, source.text, text, log, caller)
        : tableOfRows(source, text.decimal, caller),
    );
  }
  if (/^[a-z][a-z0-9+.-]+:\/\//i.test(source)) {
    throw new InputError(
      `${caller} requires a path to a file, got a web address; nothing is fetched: save the file and name it here`,
    );
  }
  const path = source;
  const before = await fileState(path);
  const size = await sizeOf(path, caller);
  const first = await readStart(path, longestHeader + 1);
  const format = sniffBytes(first);
  const look = () => requireUnchanged(caller, path, before);
  const found = await opened();
  await look();
  return unchanged(found, look);

  async function opened(): Promise<OpenSource> {
    switch (format.kind) {
      case "parquet":
        if (!has.database) throw new InputError(withoutDatabase(file, caller));
        return scanParquet(path, text.decimal ?? ".", caller);
      case "zip": {
        const { readXlsx } = await import("./readXlsx.js");
        return wholeTable(await readXlsx(path, text, caller));
      }
      case "gzip": {
        const start = await firstUnzipped(path, file, caller);
        return openText(start, size > large / 4);
      }
      case "binary":
        throw new InputError(`${caller} requires ${binaryFile(file)}`);
      case "text":
        return openText({ format, bytes: first }, size > large);
    }
  }

  async function openText(
    start: { format: FileFormat; bytes: Uint8Array },
    isLarge: boolean,
  ): Promise<OpenSource> {
    if (start.format.kind !== "text") {
      throw new InputError(`${caller} requires ${binaryFile(file)}`);
    }
    const encoding = text.encoding ?? start.format.encoding;
    const zipped = format.kind === "gzip";
    if (isLarge && has.database && encoding === "utf-8") {
      const header = await headerOfText(
        decodeStart(start.bytes.subarray(start.format.skip)),
        text.delimiter,
        file,
        caller,
      );
      // a little more than that, so that the room made for them is enough
      const rows = Math.ceil((1.02 * size * (zipped ? 5 : 1)) / averageLine(start.bytes));
      return scanText(path, header, { rows, decimal: text.decimal, zipped, log, caller });
    }
    const bytes = zipped ? await unzip(path, file, caller) : await readBytes(path);
    if (bytes.length > 400_000_000) {
      throw new InputError(
        `${caller} requires UTF-8 for a file of this size (${file}), got ${encoding}; save it anew as UTF-8`,
      );
    }
    requireLines(bytes.subarray(0, longestHeader + 1));
    const decoded = decodeText(bytes.subarray(start.format.skip), encoding, file, caller);
    return wholeTable(await readTextTable(file, decoded, text, log, caller));
  }

  function decodeStart(bytes: Uint8Array): string {
    requireLines(bytes);
    return decodeText(bytes.subarray(0, endOfLines(bytes)), "utf-8", file, caller);
  }

  function requireLines(bytes: Uint8Array): void {
    if (bytes.length >= longestHeader && !bytes.subarray(0, longestHeader).some(isLineEnd)) {
      throw new InputError(
        `${caller} requires lines shorter than ${longestHeader} characters, got a longer first line in ${file}; it may be no table, or have no line ends`,
      );
    }
  }
}

function averageLine(bytes: Uint8Array): number {
  let lines = 1;
  for (let at = 0; at < bytes.length; at++) if (bytes[at] === 10) lines++;
  return bytes.length / lines;
}

/** Where the last whole line ends; a carriage return alone ends a line, too. */
function endOfLines(bytes: Uint8Array): number {
  return 1 + (bytes.includes(10) ? bytes.lastIndexOf(10) : bytes.lastIndexOf(13));
}

function isLineEnd(byte: number): boolean {
  return byte === 10 || byte === 13;
}

/** The same, which is refused at its end where its file has changed meanwhile. */
function unchanged(source: OpenSource, look: () => Promise<void>): OpenSource {
  return {
    ...source,
    // known when the last table was seen
    get lineOf() {
      return source.lineOf;
    },
    async *tables(...given) {
      yield* source.tables(...given);
      await look();
    },
  };
}

/** A table that is already whole, as a source. */
function wholeTable(table: TextTable): OpenSource {
  return {
    file: table.file,
    header: table.header,
    rows: table.n,
    async *tables() {
      yield { table, done: 1 };
    },
  };
}

async function sizeOf(path: string, caller: string): Promise<number> {
  const found = await whatIs(path);
  if (found?.kind === "folder") {
    throw new InputError(
      `${caller} requires a readable file, got the folder ${basename(path)}; ${await filesIn(path, "", tables)}`,
    );
  }
  if (found?.kind === "other") {
    throw new InputError(
      `${caller} requires a readable file, got ${basename(path)}, which is a pipe or a device; write it to a file first`,
    );
  }
  if (found === null) {
    const folder = dirname(path);
    throw new InputError(
      `${caller} requires a readable file, got ${basename(path)}, which is not in the folder ${folder}; ` +
        (await filesIn(folder, basename(path), tables)),
    );
  }
  if (found.size === 0) {
    throw new InputError(
      `${caller} requires a file with rows, got an empty one (${basename(path)}); export it once more`,
    );
  }
  return found.size;
}

const tables = /\.(csv|tsv|txt|xlsx|parquet|gz)$/i;

function withoutDatabase(file: string, caller: string): string {
  return `${caller} requires CSV, TSV or XLSX in a page, got Parquet (${file}); save the table as CSV where it was made, or use the command line`;
}

async function firstUnzipped(path: string, file: string, caller: string) {
  const bytes = await unzip(path, file, caller, longestHeader + 1);
  return { format: sniffBytes(bytes), bytes };
}

/** The unzipped bytes, or their beginning; never more than half a gigabyte. */
async function unzip(
  path: string,
  file: string,
  caller: string,
  most = 500_000_000,
): Promise<Uint8Array> {
  const parts: Uint8Array[] = [];
  let length = 0;
  try {
    for await (const part of unzippedParts(path)) {
      parts.push(part);
      length += part.length;
      if (length >= most) break;
    }
  } catch {
    throw new InputError(
      `${caller} requires an intact gzip file, got a damaged one (${file}); copy or export it once more`,
    );
  }
  const whole = new Uint8Array(length);
  let at = 0;
  for (const part of parts) {
    whole.set(part, at);
    at += part.length;
  }
  return whole.subarray(0, most);
}

function tableOfRows(
  rows: readonly SourceRow[],
  decimal: TextOptions["decimal"],
  caller: string,
): TextTable {
  if (rows.length === 0) throw new InputError(`${caller} requires rows, got none`);
  const header = [...new Set(rows.flatMap((row) => Object.keys(row)))];
  const records = rows.map((row) =>
    header.map((name) => {
      const value = Object.hasOwn(row, name) ? row[name] : null;
      return value === null || value === undefined || Number.isNaN(value) ? "" : String(value);
    }),
  );
  return tableOf("rows", header, records, { decimal, line: (row) => row + 1 });
}
