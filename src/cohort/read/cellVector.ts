/** Cells of up to this many bytes stand in DuckDB's vector of strings itself. */
export const inlineBytes = 12;

/**
 * One column of a chunk as DuckDB holds it: 16 bytes a cell. The first four are the cell's length in
 * bytes; up to `inlineBytes` follow at once, before zeros, and a longer cell stands elsewhere (DuckDB C
 * API, `duckdb_string_t`). A missing cell is an empty one.
 */
export interface StringCells {
  readonly bytes: Uint8Array;
  /** The cell as it was written; "" where it is empty. */
  readonly text: (row: number) => string;
}

export interface CellVector extends StringCells {
  /** Four numbers a cell: its length, and its bytes where they stand here. */
  readonly words: Int32Array;
  /** Gives the cells of the rows one after another. */
  readonly eachText: (rows: Int32Array, take: (text: string) => void) => void;
}

const notAscii = 0x80808080;

/**
 * Reads the cells of one column, chunk by chunk, without making a text of every cell. What the column repeats is
 * decoded once, as far as a small table remembers it.
 */
export function cellReader(): (cells: StringCells) => CellVector {
  const known = new Int32Array(4 * 256);
  const textOf = new Array<string>(256).fill("");

  return (cells) => {
    const { buffer, byteOffset, byteLength } = cells.bytes;
    const words = new Int32Array(buffer, byteOffset, byteLength / 4);
    const all = Buffer.from(buffer, byteOffset, byteLength);
    const isPlain = (at: number): boolean =>
      words[at] <= inlineBytes &&
      ((words[at + 1] | words[at + 2] | words[at + 3]) & notAscii) === 0;
    const text = (row: number): string => {
      const at = 4 * row;
      // asking the vector takes ten times as long
      if (!isPlain(at)) return cells.text(row);
      const bits = words[at + 1] ^ Math.imul(words[at + 2], 31) ^ Math.imul(words[at + 3], 37);
      const slot = Math.imul(bits, 0x9e3779b1) >>> 24;
      const key = 4 * slot;
      const same =
        known[key] === words[at] &&
        known[key + 1] === words[at + 1] &&
        known[key + 2] === words[at + 2] &&
        known[key + 3] === words[at + 3];
      if (same) return textOf[slot];
      known.set(words.subarray(at, at + 4), key);
      textOf[slot] = all.toString("latin1", 16 * row + 4, 16 * row + 4 + words[at]);
      return textOf[slot];
    };
    return {
      words,
      bytes: cells.bytes,
      text,
      eachText(rows, take) {
        // cutting up one long text is faster than decoding many short ones
        const whole = rows.length < words.length / 32 ? null : all.toString("latin1");
        for (let k = 0; k < rows.length; k++) {
          const row = rows[k];
          const at = 16 * row + 4;
          if (whole === null || !isPlain(4 * row)) take(text(row));
          else take(whole.substring(at, at + words[4 * row]));
        }
      },
    };
  };
}
