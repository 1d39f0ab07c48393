import type { DuckDBDataChunk } from "@duckdb/node-api";
import { type CellVector, cellReader } from "./cellVector.js";
import { plainNumbers } from "./plainNumbers.js";
import type { ColumnUse } from "./source.js";
import { parseNumber, type TextTable } from "./textTable.js";
import type { VectorAccess } from "./vectorAccess.js";
import { wordCodes } from "./wordCodes.js";

interface ChunkOptions {
  readonly decimal: "." | ",";
  /** Columns with cells that do not stand in DuckDB's vector of strings itself. */
  readonly long: ReadonlySet<number>;
  /** Columns that are numbers in the file: no text is made of them but of a cell that is asked for. */
  readonly native: ReadonlySet<number>;
  readonly access: VectorAccess;
}

/**
 * Turns chunks into tables of text without making a text of every cell: numbers and codes are read from
 * the bytes, and a cell is decoded when asked for. In columns with long cells, whose bytes stand
 * elsewhere, DuckDB casts the numbers and hashes the words. A table is good until the next one is asked
 * for: the arrays of its columns are used again.
 */
export function chunkReader(
  file: string,
  header: readonly string[],
  { numeric, coded }: ColumnUse,
  { decimal, long, native, access }: ChunkOptions,
) {
  const longNumbers = [...numeric.keys()].filter((column) => long.has(column));
  const longWords = [...coded].filter((column) => long.has(column));
  const words = new Map([...coded].map((column) => [column, wordCodes()]));
  const select = [
    ...header.map((_, column) =>
      native.has(column) ? `coalesce(cast(c${column} as double), 'nan')` : `c${column}`,
    ),
    ...longNumbers.map((column) => castOf(column, decimal)),
    ...longWords.map((column) => `hash(c${column})`),
  ].join(", ");
  const rooms = new Map<number, Float64Array>();
  const room = (column: number, n: number): Float64Array => {
    const made = rooms.get(column);
    if (made !== undefined && made.length >= n) return made.subarray(0, n);
    const larger = new Float64Array(n);
    rooms.set(column, larger);
    return larger;
  };
  const cellsOf = header.map(() => cellReader());
  let rowsBefore = 0;

  return {
    select,
    rowsSoFar: () => rowsBefore,
    table(chunk: DuckDBDataChunk): TextTable {
      const offset = rowsBefore;
      // asking a chunk for its size is a call into the library
      const n = chunk.rowCount;
      rowsBefore += n;
      const vector = (index: number) => chunk.getColumnVector(index);
      const natives = kept((column) => access.numbers(vector(column)));
      const cells = kept((column) => cellsOf[column](access.strings(vector(column))));
      const numbers = kept((column) => {
        if (native.has(column)) return finiteOnly(natives(column), room(column, n));
        const place = longNumbers.indexOf(column);
        if (place < 0) return plainNumbers(cells(column), decimal, room(column, n));
        const cast = access.numbers(vector(header.length + place));
        return castNumbers(cast, cells(column), decimal);
      });
      const codes = kept((column) => {
        const place = longWords.indexOf(column);
        const hashes = header.length + longNumbers.length + place;
        return words
          .get(column)!
          .codes(cells(column), n, place < 0 ? null : access.hashes(vector(hashes)));
      });
      return {
        file,
        header,
        n,
        decimal,
        whole: false,
        line: (row) => offset + row + 2,
        text: (column, row) =>
          native.has(column) ? textOfNumber(natives(column)[row]!) : cells(column).text(row).trim(),
        numbers,
        oddRows(column) {
          const limits = numeric.get(column);
          return limits === undefined || coded.has(column)
            ? null
            : rowsOutside(numbers(column), limits);
        },
        coded: (column) => ({ codes: codes(column), labels: words.get(column)!.labels }),
      };
    },
  };
}

/** An underscore between digits, or a plus before a minus, makes a number for the cast and for nobody else. */
function castOf(column: number, decimal: "." | ","): string {
  const cell = decimal === "," ? `replace(c${column}, ',', '.')` : `c${column}`;
  return `case when contains(c${column}, '_') or contains(c${column}, '+-') then 'nan' else coalesce(try_cast(${cell} as double), 'nan') end`;
}

/** A cell that the cast did not know is read from its text: a typographic minus, "inf". */
function castNumbers(
  cast: Float64Array,
  { words, text }: CellVector,
  decimal: "." | ",",
): Float64Array {
  for (let row = 0; row < cast.length; row++) {
    if (Number.isFinite(cast[row])) continue;
    cast[row] = words[4 * row] === 0 ? Number.NaN : parseNumber(text(row).trim(), decimal);
  }
  return cast;
}

/** What a number in a file would be as a text: nothing where there is none. */
function textOfNumber(value: number): string {
  if (Number.isNaN(value)) return "";
  return Number.isFinite(value) ? String(value) : value < 0 ? "-inf" : "inf";
}

/** Infinity is no number in any other file either, and there is one zero. */
function finiteOnly(values: Float64Array, room: Float64Array): Float64Array {
  for (let row = 0; row < room.length; row++) {
    const value = values[row]!;
    room[row] = Number.isFinite(value) ? value + 0 : Number.NaN;
  }
  return room;
}

function rowsOutside(numbers: Float64Array, [low, high]: readonly [number, number]): number[] {
  const rows: number[] = [];
  for (let row = 0; row < numbers.length; row++) {
    if (!(numbers[row] >= low && numbers[row] <= high)) rows.push(row);
  }
  return rows;
}

/** What is made of a column, made once. */
function kept<Value>(make: (column: number) => Value): (column: number) => Value {
  const made = new Map<number, Value>();
  return (column) => {
    let value = made.get(column);
    if (value === undefined) {
      value = make(column);
      made.set(column, value);
    }
    return value;
  };
}
