/** The cell of a row as it was written; "" where it is empty. */
export type CellTexts = (row: number) => string;

/** What DuckDB's vector of strings holds: 16 bytes a row, and a mask of the rows that have one. */
interface StringVector {
  readonly dataView: DataView;
  readonly validity: { readonly data: BigUint64Array | null };
  readonly getItem: (row: number) => string | null;
}

/**
 * The cells of a vector of strings. A string of up to 12 bytes stands in the vector itself, behind
 * its length and before zeros (DuckDB C API, `duckdb_string_t`). Plain ASCII of that length, which
 * most cells are, is cut out of one text of the whole vector; asking the vector takes ten times as long.
 */
export function cellTexts(vector: unknown): CellTexts {
  const strings = vector as StringVector;
  const { buffer, byteOffset, byteLength } = strings.dataView;
  const words = new Uint32Array(buffer, byteOffset, byteLength / 4);
  const mask = strings.validity.data;
  const filled = mask === null ? null : new Uint8Array(mask.buffer, mask.byteOffset);
  let whole: string | null = null;
  return (row) => {
    if (filled !== null && (filled[row >> 3] & (1 << (row & 7))) === 0) return "";
    const at = 4 * row;
    const length = words[at];
    const notAscii = (words[at + 1] | words[at + 2] | words[at + 3]) & 0x80808080;
    if (length > 12 || notAscii !== 0) return strings.getItem(row) ?? "";
    whole ??= Buffer.from(buffer, byteOffset, byteLength).toString("latin1");
    return whole.substring(16 * row + 4, 16 * row + 4 + length);
  };
}
