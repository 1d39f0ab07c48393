/** Tables of a font by their tags. */
export type Tables = Readonly<Record<string, Uint8Array>>;

/** Compresses bytes as zlib does. */
export type Compress = (bytes: Uint8Array) => Uint8Array;

/** A font file of tables, each compressed (WOFF File Format 1.0, W3C 2012). */
export function woff(tables: Tables, compress: Compress): Uint8Array {
  const parts = Object.entries(tables)
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([tag, plain]) => {
      const small = compress(plain);
      return { tag, plain, stored: small.length < plain.length ? small : plain };
    });
  const directory = 44 + 20 * parts.length;
  const length = parts.reduce((sum, { stored }) => sum + padded(stored.length), directory);
  const bytes = new Uint8Array(length);
  const view = new DataView(bytes.buffer);
  const whole = parts.reduce(
    (sum, { plain }) => sum + padded(plain.length),
    12 + 16 * parts.length,
  );
  bytes.set(new TextEncoder().encode("wOFF"), 0);
  view.setUint32(4, 0x00010000);
  view.setUint32(8, length);
  view.setUint16(12, parts.length);
  view.setUint32(16, whole);
  view.setUint16(20, 1);
  let at = directory;
  for (const [place, { tag, plain, stored }] of parts.entries()) {
    const entry = 44 + 20 * place;
    bytes.set(new TextEncoder().encode(tag), entry);
    [at, stored.length, plain.length, checksum(plain)].forEach((number, field) => {
      view.setUint32(entry + 4 + 4 * field, number);
    });
    bytes.set(stored, at);
    at += padded(stored.length);
  }
  return bytes;
}

const padded = (length: number): number => Math.ceil(length / 4) * 4;

/** The sum of a table's 32-bit words. */
function checksum(table: Uint8Array): number {
  const whole = new Uint8Array(padded(table.length));
  whole.set(table);
  const view = new DataView(whole.buffer);
  let sum = 0;
  for (let at = 0; at < whole.length; at += 4) sum = (sum + view.getUint32(at)) >>> 0;
  return sum;
}
