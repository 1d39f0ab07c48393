import type { DuckDBDataChunk } from "@duckdb/node-api";
import { hashedLabels } from "./hashedLabels.js";
import type { ColumnUse } from "./openSource.js";
import type { TextTable } from "./textTable.js";

interface NumericVector {
  readonly items: Float64Array;
}
interface HashVector {
  readonly items: BigUint64Array;
}
interface TextVector {
  readonly getItem: (row: number) => string | null;
}

/** Parts the cells of one row within the raw text that comes with a suspicious row. */
const cellMark = "\u001f";

/**
 * Turns chunks into tables of text without making a text of every cell. Numeric columns arrive cast,
 * with NaN for what is empty or no number; columns of words arrive as a hash, and a word becomes text
 * when its hash is new; the raw text of all numeric cells comes only with rows in which one of them
 * is neither empty nor a number between its limits.
 */
export function chunkReader(
  file: string,
  header: readonly string[],
  { numeric, coded }: ColumnUse,
  decimal: "." | ",",
) {
  const numericColumns = [...numeric.keys()];
  const codedColumns = [...coded];
  const labels = new Map(codedColumns.map((column) => [column, hashedLabels()]));
  // an underscore between digits makes a number for the cast, and for nobody else
  const plain = (column: number) =>
    `replace(${decimal === "," ? `replace(c${column}, ',', '.')` : `c${column}`}, '_', '?')`;
  const casts = numericColumns.map((column) => `try_cast(${plain(column)} as double)`);
  const suspicious = numericColumns.map((column, index) => {
    const [low, high] = numeric.get(column) ?? [0, 0];
    return (
      `(c${column} is not null and ` +
      `not coalesce(${casts[index]} between ${low} and ${high}, false))`
    );
  });
  const raw = `concat_ws('${cellMark}', ${numericColumns.map((column) => `coalesce(c${column}, '')`).join(", ")})`;
  const select = [
    ...casts.map((cast) => `coalesce(${cast}, 'nan'::double)`),
    ...codedColumns.map((column) => `hash(trim(c${column}))`),
    ...codedColumns.map((column) => `trim(c${column})`),
    numericColumns.length === 0
      ? "null::varchar"
      : `case when ${suspicious.join(" or ")} then ${raw} end`,
  ].join(", ");
  let rowsBefore = 0;
  const first = {
    coded: numericColumns.length,
    words: numericColumns.length + codedColumns.length,
  };

  return {
    select,
    rowsSoFar: () => rowsBefore,
    table(chunk: DuckDBDataChunk): TextTable {
      const offset = rowsBefore;
      // asking a chunk for its size is a call into the library
      const n = chunk.rowCount;
      rowsBefore += n;
      const vectors = new Map<number, unknown>();
      const vector = (index: number): unknown => {
        const made = vectors.get(index) ?? chunk.getColumnVector(index);
        vectors.set(index, made);
        return made;
      };
      const rawText = vector(first.words + codedColumns.length) as TextVector;
      const numbers = (column: number) =>
        (vector(numericColumns.indexOf(column)) as NumericVector).items;
      const codesOf = new Map<number, Int32Array>();
      const codes = (column: number): Int32Array => {
        let found = codesOf.get(column);
        if (found === undefined) {
          const index = codedColumns.indexOf(column);
          const hashes = (vector(first.coded + index) as HashVector).items;
          const words = vector(first.words + index) as TextVector;
          found = labels.get(column)!.codes(hashes, n, (row) => words.getItem(row));
          codesOf.set(column, found);
        }
        return found;
      };
      // the raw text is decoded once for all columns that ask for it
      let decoded: Map<number, readonly string[]> | null = null;
      const cells = () => {
        if (decoded === null) {
          decoded = new Map();
          for (let row = 0; row < n; row++) {
            const text = rawText.getItem(row);
            if (text !== null) decoded.set(row, text.split(cellMark));
          }
        }
        return decoded;
      };
      let withText: readonly number[] | null = null;
      const suspiciousRows = () => {
        withText ??= [...cells().keys()];
        return withText;
      };
      return {
        file,
        header,
        n,
        decimal,
        whole: false,
        line: (row) => offset + row + 2,
        text(column, row) {
          if (coded.has(column)) return labels.get(column)!.labels[codes(column)[row]];
          const written = cells().get(row);
          if (written !== undefined) return written[numericColumns.indexOf(column)].trim();
          const value = numbers(column)[row];
          return Number.isNaN(value) ? "" : String(value);
        },
        numbers,
        textRows: (column) => (numeric.has(column) && !coded.has(column) ? suspiciousRows() : null),
        coded: (column) => ({ codes: codes(column), labels: labels.get(column)!.labels }),
      };
    },
  };
}
