import { createReadStream, existsSync } from "node:fs";
import { mkdir, open, readdir, readFile, rm, stat } from "node:fs/promises";
import { createGunzip } from "node:zlib";

/** What a path names; null for nothing. "other" is a pipe or a device. */
export async function whatIs(
  path: string,
): Promise<{ readonly kind: "file" | "folder" | "other"; readonly size: number } | null> {
  const found = await stat(path).catch(() => null);
  if (found === null) return null;
  const kind = found.isFile() ? "file" : found.isDirectory() ? "folder" : "other";
  return { kind, size: found.size };
}

/** Whether there is something of this name. */
export function exists(path: string): boolean {
  return existsSync(path);
}

/** Which file it is and when it was last changed; undefined where there is none. */
export async function fileState(path: string): Promise<string | undefined> {
  const found = await stat(path, { bigint: true }).catch(() => undefined);
  if (found === undefined) return undefined;
  const { dev, ino, size, mtimeNs, ctimeNs } = found;
  return [dev, ino, size, mtimeNs, ctimeNs].join(":");
}

/** @throws an error with the `code` "ENOENT" where there is no such file */
export function readBytes(path: string): Promise<Uint8Array> {
  return readFile(path);
}

/** @throws an error with the `code` "ENOENT" where there is no such file */
export function readText(path: string): Promise<string> {
  return readFile(path, "utf8");
}

/** The first bytes of a file, at most so many. */
export async function readStart(path: string, most: number): Promise<Uint8Array> {
  const handle = await open(path);
  try {
    const { buffer, bytesRead } = await handle.read(new Uint8Array(most), 0);
    return buffer.subarray(0, bytesRead);
  } finally {
    await handle.close();
  }
}

/** The bytes of a file, part by part. */
export async function* partsOf(path: string, atOnce = 1 << 16): AsyncGenerator<Uint8Array> {
  const stream = createReadStream(path, { highWaterMark: atOnce });
  try {
    for await (const part of stream) yield part;
  } finally {
    stream.destroy();
  }
}

/** The unpacked bytes of a gzip file, part by part. @throws where it is damaged */
export async function* unzippedParts(path: string, atOnce = 1 << 16): AsyncGenerator<Uint8Array> {
  const stream = createReadStream(path, { highWaterMark: atOnce });
  try {
    for await (const part of stream.pipe(createGunzip())) yield part;
  } finally {
    stream.destroy();
  }
}

/** The names of what lies in a folder. */
export function namesIn(folder: string): Promise<string[]> {
  return readdir(folder);
}

/** Makes a folder and those above it; `private` is mode 0700. */
export async function makeFolders(
  folder: string,
  { private: isPrivate = false }: { readonly private?: boolean } = {},
): Promise<void> {
  await mkdir(folder, { recursive: true, ...(isPrivate ? { mode: 0o700 } : {}) });
}

/** Removes a file, where there is one. */
export async function removeFile(path: string): Promise<void> {
  await rm(path, { force: true });
}
