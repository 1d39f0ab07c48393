import { type CodedTable, readCoded, sheetNames } from "../cohort/index.js";
import { basename } from "../platform/index.js";
import { InputError, type RunOptions } from "../results/index.js";
import { counted } from "../rows/index.js";
import type { FileChoices } from "./choices.js";
import { plainNumber } from "./detect/columnFacts.js";
import { dateColumn } from "./detect/dateColumn.js";

export interface ReadFile {
  readonly table: CodedTable;
  /** What the file turned out to be, where it had to be tried. */
  readonly encoding?: "latin1";
  /** The sheets of a workbook with several, of which one has to be named; it is not read before. */
  readonly sheets?: readonly string[];
}

/**
 * Reads the raw files. Bytes that are no UTF-8 are read as Latin-1, and that is said. A workbook with several
 * sheets is not read before one of them is named.
 */
export async function readTables(
  paths: readonly string[],
  choices: readonly (FileChoices | undefined)[],
  options: RunOptions,
): Promise<ReadFile[]> {
  const names = paths.map((path) => basename(path));
  const twice = names.find((name, at) => names.indexOf(name) < at);
  if (twice !== undefined) {
    throw new InputError(
      `prepareFiles requires files of different names, got two called ${twice}; rename one of them`,
    );
  }
  const read: ReadFile[] = [];
  for (const [at, path] of paths.entries()) {
    const { encoding, delimiter, sheet } = choices[at] ?? {};
    const text = { encoding, delimiter, ...(sheet == null ? {} : { sheet }) };
    const sheets = sheet == null ? await sheetNames(path) : [];
    if (sheets.length > 1) {
      read.push({ table: unreadTable(basename(path)), sheets });
      continue;
    }
    const one = await readCoded(path, text, "prepareFiles", options).then(
      (table): ReadFile => ({ table }),
      async (error: unknown): Promise<ReadFile> => {
        const other = error instanceof InputError && /or a declared encoding/.test(error.message);
        if (!other || encoding !== undefined) throw error;
        const latin = { ...text, encoding: "latin1" as const };
        return { table: await readCoded(path, latin, "prepareFiles", options), encoding: "latin1" };
      },
    );
    read.push({ ...one, table: named(one.table) });
  }
  return read;
}

function unreadTable(file: string): CodedTable {
  return { file, header: [], n: 0, columns: [], line: new Int32Array(0), rejected: [] };
}

/** A table whose columns all have names of their own; a first line of data is none. */
function named(table: CodedTable): CodedTable {
  const { file } = table;
  const filled = table.header.filter((name) => name !== "");
  const numbers = filled.filter((name) => !Number.isNaN(plainNumber(name)));
  const dates = filled.filter(
    (name) => dateColumn(new Map([[name, 1]]), { serials: false }) !== null,
  );
  const above = linesAbove(table);
  if (above > 0) {
    throw new InputError(
      `prepareFiles requires the names of the columns in the first line of ${file}, got ${counted(filled.length, "cell")} ` +
        `there and more below; the names seem to stand in line ${above + 1}: take the ${counted(above, "line")} above it ` +
        "away in a copy",
    );
  }
  if (hasSecondHeader(table)) {
    throw new InputError(
      `prepareFiles requires one line of names in ${file}, got words in every column of line ${table.line[0]} as well, where ` +
        "the lines below have numbers or dates; take one of the two lines away in a copy",
    );
  }
  if (numbers.length + dates.length > filled.length / 4) {
    throw new InputError(
      `prepareFiles requires the names of the columns in the first line of ${file}, got ${numbers.length} numbers and ` +
        `${dates.length} dates there; add a line with names, or take the lines above it away`,
    );
  }
  const header = table.header.map((name, at) => (name === "" ? `column ${at + 1}` : name));
  const twice = header.findIndex((name, at) => header.indexOf(name) < at);
  if (twice >= 0) {
    const first = header.indexOf(header[twice]);
    throw new InputError(
      `prepareFiles requires columns of different names, got columns ${first + 1} and ${twice + 1} of ${file} with ` +
        "one name; rename one of them in a copy",
    );
  }
  return { ...table, header };
}

/** Names once more in the first row: words where nearly every other row has a number or a date. */
function hasSecondHeader({ n, columns }: CodedTable): boolean {
  if (n < 4) return false;
  const isWord = (cell: string) =>
    cell !== "" && !/\d{2}/.test(cell) && Number.isNaN(plainNumber(cell));
  let [words, filled] = [0, 0];
  for (const { codes, labels } of columns) {
    if (labels[codes[0]] === "") continue;
    filled++;
    if (!isWord(labels[codes[0]])) return false;
    let others = 0;
    for (let row = 1; row < Math.min(n, 200); row++) {
      if (/\d/.test(labels[codes[row]]) || labels[codes[row]] === "") others++;
    }
    if (others > 0.9 * (Math.min(n, 200) - 1)) words++;
  }
  return filled > columns.length / 2 && words >= 2 && words >= filled / 3;
}

/** Lines above the names, where the first line has few of them and one of the next has words in more columns. */
function linesAbove({ header, n, columns, line }: CodedTable): number {
  const named = header.filter((name) => name !== "").length;
  if (named > header.length / 2) return 0;
  for (let row = 0; row < Math.min(n, 20); row++) {
    const cells = columns.map(({ codes, labels }) => labels[codes[row]]);
    const words = cells.filter((cell) => cell !== "" && Number.isNaN(plainNumber(cell)));
    if (words.length > header.length / 2 && words.length > named) return line[row] - 1;
  }
  return 0;
}
