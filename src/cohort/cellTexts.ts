/** The cell of a row as it was written; "" where it is empty. */
export type CellTexts = (row: number) => string;

/** What DuckDB's vector of strings holds: 16 bytes a row, and a mask of the rows that have one. */
interface StringVector {
  readonly dataView: DataView;
  readonly validity: { readonly itemValid: (row: number) => boolean };
  readonly getItem: (row: number) => string | null;
}

/**
 * The cells of a vector of strings. A string of up to 12 bytes stands in the vector itself, behind
 * its length (DuckDB C API, `duckdb_string_t`), and is decoded from there: asking the vector for it
 * takes three times as long.
 */
export function cellTexts(vector: unknown): CellTexts {
  const { dataView, validity } = vector as StringVector;
  const bytes = Buffer.from(dataView.buffer, dataView.byteOffset, dataView.byteLength);
  return (row) => {
    if (!validity.itemValid(row)) return "";
    const start = 16 * row + 4;
    const length = bytes.readUInt32LE(start - 4);
    return length > 12
      ? ((vector as StringVector).getItem(row) ?? "")
      : bytes.toString("utf8", start, start + length);
  };
}
