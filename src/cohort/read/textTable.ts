/**
 * Rows of text with a header; cells are asked for by position, never by name. The arrays that a table
 * gives are not kept: those of a scanned file are written again for its next table.
 */
export interface TextTable {
  readonly file: string;
  readonly header: readonly string[];
  readonly n: number;
  readonly decimal: "." | ",";
  /** Whether the whole file is in memory, so that every cell's text can be kept. */
  readonly whole: boolean;
  /** Line of a row in its file, the header being line 1. */
  readonly line: (row: number) => number;
  /** The cell as written, without surrounding blanks; "" where it is empty. */
  readonly text: (column: number, row: number) => string;
  /** The column as numbers, NaN wherever the cell is empty or no number. */
  readonly numbers: (column: number) => Float64Array;
  /** Rows of a column of numbers that hold none between its limits; null where it holds words. */
  readonly oddRows: (column: number) => readonly number[] | null;
  /** The column as codes into a list of distinct texts. */
  readonly coded: (column: number) => { codes: Int32Array; labels: readonly string[] };
  /** Why a cell of both eyes could not be taken apart, by its code; only of a table of one eye. */
  readonly faultOf?: (column: number, code: number) => string | undefined;
}

const plainNumber = /^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i;

/** A number as files write it: Unicode minus and a decimal comma (where declared) included. */
export function parseNumber(text: string, decimal: "." | ","): number {
  let plain = text.replace("\u2212", "-");
  if (decimal === ",") plain = plain.replace(",", ".");
  return plainNumber.test(plain) ? Number(plain) : Number.NaN;
}

/** A table over records that are already in memory. */
export function tableOf(
  file: string,
  header: readonly string[],
  records: readonly (readonly string[])[],
  options: { decimal?: "." | ","; line?: (row: number) => number } = {},
): TextTable {
  const { decimal = ".", line = (row: number) => row + 2 } = options;
  const text = (column: number, row: number) => (records[row][column] ?? "").trim();
  return {
    file,
    header,
    n: records.length,
    decimal,
    whole: true,
    line,
    text,
    numbers: (column) =>
      Float64Array.from(records, (_, row) => parseNumber(text(column, row), decimal)),
    oddRows: () => null,
    coded: (column) => {
      const codeOf = new Map<string, number>();
      const codes = new Int32Array(records.length);
      for (let row = 0; row < records.length; row++) {
        const word = text(column, row);
        let code = codeOf.get(word);
        if (code === undefined) {
          code = codeOf.size;
          codeOf.set(word, code);
        }
        codes[row] = code;
      }
      return { codes, labels: [...codeOf.keys()] };
    },
  };
}
