// What a layout is, whichever half it is of, and how its files are written as their systems would.
import { mkdirSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { gzipSync } from "node:zlib";
import { DuckDBInstance } from "@duckdb/node-api";
import * as xlsx from "xlsx";

export interface ColumnTruth {
  readonly is: string;
  readonly eye?: "right" | "left";
  readonly block?: string;
  readonly of?: "readings" | "findings";
  readonly order?: string;
  readonly unit?: string;
  readonly notation?: string;
  readonly cells?: Readonly<Record<string, string>>;
  readonly mayAsk?: boolean;
  /** Nobody may answer this without a question: a silent answer is wrong, even where it is true. */
  readonly mustAsk?: boolean;
  readonly or?: readonly string[];
}

export interface FileTruth {
  readonly file: string;
  readonly holds: readonly ("readings" | "findings" | "children")[];
  readonly written?: string;
  readonly cylinder?: string | Readonly<Record<string, string>>;
  readonly decimal?: string;
  readonly dateCells?: readonly string[];
  readonly sheet?: string;
  readonly otherSheet?: boolean;
  readonly columns: Readonly<Record<string, ColumnTruth>>;
}

export interface Layout {
  readonly kind: "layout";
  readonly note: string;
  readonly files: readonly FileTruth[];
  readonly children: Readonly<Record<string, number>>;
  readonly ignore: readonly string[];
}

export interface WrittenLayout {
  readonly name: string;
  readonly layout: Layout;
  /** The text of each file, as UTF-8 with a header. */
  readonly texts: Readonly<Record<string, string>>;
}

/** Writes the files of a layout into a folder and returns their paths. */
export async function writeLayout(
  { layout, texts }: WrittenLayout,
  folder: string,
): Promise<string[]> {
  const paths: string[] = [];
  for (const truth of layout.files) {
    const path = join(folder, truth.file);
    mkdirSync(dirname(path), { recursive: true });
    await writeAs(path, texts[truth.file]!, truth);
    paths.push(path);
  }
  return paths;
}

async function writeAs(path: string, text: string, truth: FileTruth): Promise<void> {
  switch (truth.written ?? "utf-8") {
    case "utf-8":
      return writeFileSync(path, text);
    case "utf-8-mark":
      return writeFileSync(path, `\uFEFF${text}`);
    case "utf-16le":
      return writeFileSync(path, Buffer.from(`\uFEFF${text}`, "utf16le"));
    case "utf-16be":
      return writeFileSync(path, Buffer.from(`\uFEFF${text}`, "utf16le").swap16());
    case "latin1":
      return writeFileSync(path, Buffer.from(text, "latin1"));
    case "gzip":
      return writeFileSync(path, gzipSync(text));
    case "xlsx":
      return writeWorkbook(path, text, truth);
    case "parquet": {
      const plain = `${path}.csv`;
      writeFileSync(plain, text);
      const connection = await (await DuckDBInstance.create(":memory:")).connect();
      await connection.run(
        `copy (from read_csv('${plain}', header = true, all_varchar = true)) to '${path}' (format parquet)`,
      );
      connection.closeSync();
    }
  }
}

function writeWorkbook(
  path: string,
  text: string,
  { dateCells = [], sheet = "Data", otherSheet }: FileTruth,
): void {
  const read = xlsx.read(text, { type: "string", raw: true });
  const rows = xlsx.utils.sheet_to_json<string[]>(read.Sheets[read.SheetNames[0]!]!, {
    header: 1,
    defval: "",
  });
  const [header, ...records] = rows as [string[], ...string[][]];
  const cells = records.map((record) =>
    record.map((cell, at) => {
      if (dateCells.includes(header[at]!) && /^\d{4}-\d\d-\d\d$/.test(cell))
        return new Date(`${cell}T00:00:00Z`);
      return /^[+-]?\d+(\.\d+)?$/.test(cell) && !/^[+-]?0\d/.test(cell) ? Number(cell) : cell;
    }),
  );
  const book = xlsx.utils.book_new();
  if (otherSheet === true)
    xlsx.utils.book_append_sheet(book, xlsx.utils.aoa_to_sheet([["About"], ["invented"]]), "About");
  xlsx.utils.book_append_sheet(
    book,
    xlsx.utils.aoa_to_sheet([header, ...cells], { cellDates: true }),
    sheet,
  );
  xlsx.writeFile(book, path, { bookType: "xlsx", cellDates: true });
}
