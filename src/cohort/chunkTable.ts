import type { DuckDBDataChunk } from "@duckdb/node-api";
import { type CellTexts, cellTexts } from "./cellTexts.js";
import { hashedLabels } from "./hashedLabels.js";
import type { ColumnUse } from "./openSource.js";
import type { TextTable } from "./textTable.js";

/** What DuckDB's vector of numbers holds, and a mask of the rows that have one. */
interface NumericVector {
  readonly items: Float64Array;
  readonly validity: { readonly data: BigUint64Array | null };
}
interface HashVector {
  readonly items: BigUint64Array;
}

interface NumberFormat {
  readonly decimal: "." | ",";
  /** Whether some cell can hold an underscore. */
  readonly underscores: boolean;
}

/**
 * Turns chunks into tables of text without making a text of every cell. Numeric columns arrive cast,
 * with NaN for what is empty or no number; columns of words arrive as a hash, and a word becomes text
 * when its hash is new. Beside both stands every cell as it was written, and is decoded when asked for.
 */
export function chunkReader(
  file: string,
  header: readonly string[],
  { numeric, coded }: ColumnUse,
  { decimal, underscores }: NumberFormat,
) {
  const numericColumns = [...numeric.keys()];
  const codedColumns = [...coded];
  const labels = new Map(codedColumns.map((column) => [column, hashedLabels()]));
  const select = [
    ...numericColumns.map((column) => castOf(column, { decimal, underscores })),
    ...codedColumns.map((column) => `hash(c${column})`),
    ...header.map((_, column) => `c${column}`),
  ].join(", ");
  const first = {
    coded: numericColumns.length,
    written: numericColumns.length + codedColumns.length,
  };
  let rowsBefore = 0;

  return {
    select,
    rowsSoFar: () => rowsBefore,
    table(chunk: DuckDBDataChunk): TextTable {
      const offset = rowsBefore;
      // asking a chunk for its size is a call into the library
      const n = chunk.rowCount;
      rowsBefore += n;
      const vector = (index: number): unknown => chunk.getColumnVector(index);
      const numbersOf = new Map<number, Float64Array>();
      const numbers = (column: number): Float64Array =>
        once(numbersOf, column, () => {
          const index = numericColumns.indexOf(column);
          return knownNumbers(vector(index) as NumericVector);
        });
      const textsOf = new Map<number, CellTexts>();
      const texts = (column: number): CellTexts =>
        once(textsOf, column, () => cellTexts(vector(first.written + column)));
      const codesOf = new Map<number, Int32Array>();
      const codes = (column: number): Int32Array =>
        once(codesOf, column, () => {
          const hashes = vector(first.coded + codedColumns.indexOf(column)) as HashVector;
          return labels.get(column)!.codes(hashes.items, n, () => texts(column));
        });
      return {
        file,
        header,
        n,
        decimal,
        whole: false,
        line: (row) => offset + row + 2,
        text: (column, row) => texts(column)(row).trim(),
        numbers,
        oddRows(column) {
          const limits = numeric.get(column);
          return limits === undefined || coded.has(column)
            ? null
            : rowsOutside(numbers(column), limits);
        },
        coded: (column) => ({ codes: codes(column), labels: labels.get(column)!.labels }),
      };
    },
  };
}

/** An underscore between digits makes a number for the cast, and for nobody else. */
function castOf(column: number, { decimal, underscores }: NumberFormat): string {
  const cell = decimal === "," ? `replace(c${column}, ',', '.')` : `c${column}`;
  const cast = `try_cast(${cell} as double)`;
  return underscores ? `case when contains(c${column}, '_') then null else ${cast} end` : cast;
}

/** The numbers of a vector, with NaN where the mask has none. */
function knownNumbers({ items, validity: { data } }: NumericVector): Float64Array {
  if (data === null) return items;
  const mask = new Uint8Array(data.buffer, data.byteOffset);
  for (let row = 0; row < items.length; row += 8) {
    const known = mask[row >> 3];
    if (known === 255) continue;
    const end = Math.min(row + 8, items.length);
    for (let at = row; at < end; at++) if ((known & (1 << (at & 7))) === 0) items[at] = Number.NaN;
  }
  return items;
}

function rowsOutside(numbers: Float64Array, [low, high]: readonly [number, number]): number[] {
  const rows: number[] = [];
  for (let row = 0; row < numbers.length; row++) {
    if (!(numbers[row] >= low && numbers[row] <= high)) rows.push(row);
  }
  return rows;
}

function once<Value>(made: Map<number, Value>, key: number, make: () => Value): Value {
  let value = made.get(key);
  if (value === undefined) {
    value = make();
    made.set(key, value);
  }
  return value;
}
