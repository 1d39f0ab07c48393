import { type FileHandle, lstat, open, rename, rm } from "node:fs/promises";
import { basename, dirname, resolve } from "node:path";
import { InputError } from "../../results/index.js";
import { fileFault } from "../fileFault.js";
import { partialName, removePartials } from "./partialFiles.js";

/** What a file shall hold, or who writes it. */
export type FileContent = string | Uint8Array | ((file: Writing) => Promise<void>);

/** A file that is being written. */
export interface Writing {
  write(text: string): Promise<unknown>;
}

export interface WriteOptions {
  /** The function that an error names. */
  readonly caller: string;
  /** Readable and writable by its owner alone (mode 0600). */
  readonly private?: boolean;
}

/**
 * Writes a file that is there whole or not at all: under a name of its own in the same folder, flushed to the
 * disk, then moved. A kill or a full disk leaves the old file as it was; what a killed run left beside it is
 * removed by the next one. A link is not followed.
 *
 * @throws InputError where the place cannot be written, with the cure; for a link, a folder, or a private file
 *   on a disk that keeps no permissions
 */
export async function writeFileWhole(
  path: string,
  content: FileContent,
  { caller, private: isPrivate = false }: WriteOptions,
): Promise<void> {
  const target = resolve(path);
  await requirePlainFile(target, caller);
  const partial = partialName(target);
  try {
    await writeNew(partial, content, { caller, private: isPrivate });
    await rename(partial, target);
    await syncFolder(dirname(target));
    await removePartials(target);
  } catch (error) {
    await rm(partial, { force: true }).catch(() => {});
    throw fileFault(error, target, caller);
  }
}

/** Writes a file that must not be there yet and flushes it; a file or link left there is never written through. */
export async function writeNew(
  path: string,
  content: FileContent,
  { caller, private: isPrivate = false }: WriteOptions,
): Promise<void> {
  const file = await open(path, "wx", isPrivate ? 0o600 : 0o666);
  try {
    if (isPrivate) await requirePrivate(file, path, caller);
    if (typeof content === "function") await content(file);
    else await file.writeFile(content);
    await file.sync();
  } finally {
    await file.close();
  }
}

async function requirePlainFile(target: string, caller: string): Promise<void> {
  const found = await lstat(target).catch(() => null);
  if (found === null || found.isFile()) return;
  const what = found.isSymbolicLink() ? "a link" : found.isDirectory() ? "a folder" : "a device";
  throw new InputError(
    `${caller} requires a file of its own to write, got ${what} named ${basename(target)}; name the file itself, or another one`,
  );
}

async function requirePrivate(file: FileHandle, target: string, caller: string): Promise<void> {
  if (process.platform === "win32") return;
  const { mode } = await file.stat();
  if ((mode & 0o077) === 0) return;
  throw new InputError(
    `${caller} requires a disk that keeps permissions for ${basename(target)}, got one where others could read it; name a folder on another disk`,
  );
}

/** Makes the new name last, where the system lets a folder be flushed. */
export async function syncFolder(folder: string): Promise<void> {
  const handle = await open(folder, "r").catch(() => null);
  await handle?.sync().catch(() => {});
  await handle?.close();
}
