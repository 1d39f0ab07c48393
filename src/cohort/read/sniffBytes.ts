import type { ColumnMapping } from "../columnMapping.js";

export type Encoding = NonNullable<NonNullable<ColumnMapping["text"]>["encoding"]>;

/** What a file's first bytes say that it is. */
export type FileFormat =
  | { readonly kind: "text"; readonly encoding: Encoding; readonly skip: number }
  | { readonly kind: "gzip" | "parquet" | "zip" | "binary" };

const readable = "CSV, TSV, XLSX and Parquet are read; save it as one of these";

/** The message about a file whose bytes are none of a table. */
export const binaryFile = (file: string) => `a table, got a binary file (${file}); ${readable}`;

/** Why a file cannot be a table, by its first bytes, in the words of the reader; null where it may be one. */
export function notATable(file: string, bytes: Uint8Array): string | null {
  return sniffBytes(bytes.subarray(0, 4096)).kind === "binary" ? binaryFile(file) : null;
}

/** PDF, PNG, JPEG, GIF, and the files of old office programs: a PDF may begin like a text. */
const others = [
  [0x25, 0x50, 0x44, 0x46, 0x2d],
  [0x89, 0x50, 0x4e, 0x47],
  [0xff, 0xd8, 0xff],
  [0x47, 0x49, 0x46, 0x38],
  [0xd0, 0xcf, 0x11, 0xe0],
];

/**
 * Tells formats and encodings apart by the first bytes: signatures, byte order marks and, without a
 * mark, the zero bytes that UTF-16 leaves beside Latin letters. Text without any of these is taken
 * for UTF-8; what is not UTF-8 fails when it is decoded, and its encoding has to be declared.
 */
export function sniffBytes(bytes: Uint8Array): FileFormat {
  if (startsWith(bytes, [0x1f, 0x8b])) return { kind: "gzip" };
  if (startsWith(bytes, [0x50, 0x41, 0x52, 0x31])) return { kind: "parquet" };
  if (startsWith(bytes, [0x50, 0x4b, 0x03, 0x04])) return { kind: "zip" };
  if (startsWith(bytes, [0xef, 0xbb, 0xbf])) return text("utf-8", 3);
  if (startsWith(bytes, [0xff, 0xfe])) return text("utf-16le", 2);
  if (startsWith(bytes, [0xfe, 0xff])) return text("utf-16be", 2);
  if (others.some((signature) => startsWith(bytes, signature))) return { kind: "binary" };
  const zeros = [0, 0];
  let controls = 0;
  bytes.forEach((byte, index) => {
    if (byte === 0) zeros[index % 2]++;
    else if (byte < 9 || (byte > 13 && byte < 32)) controls++;
  });
  if (controls > bytes.length / 100) return { kind: "binary" };
  if (zeros[0] + zeros[1] === 0) return text("utf-8", 0);
  if (zeros[0] === 0 && zeros[1] > bytes.length / 4) return text("utf-16le", 0);
  if (zeros[1] === 0 && zeros[0] > bytes.length / 4) return text("utf-16be", 0);
  return { kind: "binary" };
}

function text(encoding: Encoding, skip: number): FileFormat {
  return { kind: "text", encoding, skip };
}

function startsWith(bytes: Uint8Array, signature: readonly number[]): boolean {
  return signature.every((byte, index) => bytes[index] === byte);
}
