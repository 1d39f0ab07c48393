import type { DuckDBConnection, DuckDBDataChunk, DuckDBVector } from "@duckdb/node-api";
import { inlineBytes, type StringCells } from "./cellVector.js";

/** How the columns of a chunk are got at. Arrays may be DuckDB's own memory: good until the next chunk. */
export interface VectorAccess {
  readonly strings: (vector: DuckDBVector) => StringCells;
  readonly numbers: (vector: DuckDBVector) => Float64Array;
  readonly hashes: (vector: DuckDBVector) => BigUint64Array;
}

/** Members of the binding's vectors that its documentation does not name; nothing else in src/ uses them. */
interface Members {
  readonly dataView: DataView;
  readonly validity: { readonly data: BigUint64Array | null };
  readonly items: unknown;
}

/** DuckDB's memory itself, by members that a release may change. */
export const memoryAccess: VectorAccess = {
  strings(vector) {
    const { dataView, validity } = vector as unknown as Members;
    const bytes = new Uint8Array(dataView.buffer, dataView.byteOffset, dataView.byteLength);
    emptyWhereMissing(bytes, validity.data);
    return { bytes, text: textOf(vector) };
  },
  numbers: (vector) => (vector as unknown as Members).items as Float64Array,
  hashes: (vector) => (vector as unknown as Members).items as BigUint64Array,
};

/** The same arrays from what is documented, cell by cell: several times slower. */
export const documentedAccess: VectorAccess = {
  strings(vector) {
    const text = textOf(vector);
    const bytes = Buffer.alloc(16 * vector.itemCount);
    const words = new Int32Array(bytes.buffer, bytes.byteOffset, bytes.length / 4);
    for (let row = 0; row < vector.itemCount; row++) {
      const cell = text(row);
      words[4 * row] = Buffer.byteLength(cell);
      if (words[4 * row] <= inlineBytes) bytes.write(cell, 16 * row + 4);
    }
    return { bytes, text };
  },
  numbers: (vector) => Float64Array.from(itemsOf(vector), Number),
  hashes: (vector) => BigUint64Array.from(itemsOf(vector), (item) => item as bigint),
};

let chosen: Promise<VectorAccess> | undefined;

/** DuckDB's memory where it holds what the documented way gives, tried out once on a few cells. */
export function vectorAccess(connection: DuckDBConnection): Promise<VectorAccess> {
  chosen ??= tryOut(connection).then((same) => (same ? memoryAccess : documentedAccess));
  return chosen;
}

/** Whether both ways give the same on cells of all kinds. */
export async function tryOut(connection: DuckDBConnection): Promise<boolean> {
  const result = await connection.stream(
    "select c, coalesce(c, 'none'), strlen(coalesce(c, '')) / 4.0::double, hash(c) " +
      "from (values ('1.25'), (''), (null), ('twelve bytes'), ('thirteen bytes'), ('é −')) as cells(c)",
  );
  const chunk = await result.fetchChunk();
  return chunk !== null && sameEitherWay(chunk);
}

/** Whether two columns of text, one of numbers and one of hashes are the same either way. */
export function sameEitherWay(chunk: Pick<DuckDBDataChunk, "getColumnVector">): boolean {
  const [first, second, numbers, hashes] = [0, 1, 2, 3].map((at) => chunk.getColumnVector(at));
  try {
    return (
      sameCells(first) &&
      sameCells(second) &&
      sameItems(memoryAccess.numbers(numbers), documentedAccess.numbers(numbers)) &&
      sameItems(memoryAccess.hashes(hashes), documentedAccess.hashes(hashes))
    );
  } catch {
    // a member is gone
    return false;
  }
}

function sameCells(vector: DuckDBVector): boolean {
  const [memory, documented] = [memoryAccess.strings(vector), documentedAccess.strings(vector)];
  if (memory.bytes.length !== documented.bytes.length) return false;
  return Array.from({ length: vector.itemCount }, (_, row) => row).every((row) => {
    const at = 16 * row;
    const length = documented.bytes[at];
    // a longer cell stands elsewhere: only its length is read here
    const end = at + (length > inlineBytes ? 4 : 16);
    return Buffer.compare(memory.bytes.subarray(at, end), documented.bytes.subarray(at, end)) === 0;
  });
}

function sameItems<Item>(
  one: ArrayLike<Item> & { readonly constructor: unknown },
  other: ArrayLike<Item> & { readonly constructor: unknown },
): boolean {
  if (one.constructor !== other.constructor || one.length !== other.length) return false;
  return Array.from(one).every((item, at) => item === other[at]);
}

function textOf(vector: DuckDBVector): (row: number) => string {
  return (row) => String(vector.getItem(row) ?? "");
}

function itemsOf(vector: DuckDBVector): unknown[] {
  return Array.from({ length: vector.itemCount }, (_, row) => vector.getItem(row));
}

/** What stands in a cell that the mask says is missing is left over from elsewhere. */
function emptyWhereMissing(bytes: Uint8Array, mask: BigUint64Array | null): void {
  if (mask === null) return;
  const known = new Uint8Array(mask.buffer, mask.byteOffset);
  const n = bytes.length / 16;
  for (let row = 0; row < n; row += 8) {
    const bits = known[row >> 3];
    if (bits === 255) continue;
    const end = Math.min(row + 8, n);
    for (let at = row; at < end; at++) {
      if ((bits & (1 << (at & 7))) === 0) bytes.fill(0, 16 * at, 16 * at + 16);
    }
  }
}
