import { randomBytes } from "node:crypto";
import { lstat, mkdir, readdir, readlink, rename, rm, stat, symlink } from "node:fs/promises";
import { basename, dirname, join, resolve } from "node:path";
import { InputError } from "../../results/index.js";
import { fileFault } from "../fileFault.js";
import { whileLocked } from "./whileLocked.js";
import { syncFolder, type WriteOptions, writeNew } from "./writeFileWhole.js";

/** Files of a folder by relative path. */
type FolderFiles = ReadonlyMap<string, string | Uint8Array>;

/**
 * Replaces a whole folder at once: a kill or a full disk at any moment leaves the old one or the new one, and
 * two runs into one folder come one after the other.
 *
 * The files go to a hidden folder beside it first; `folder` is a link to that, and one rename moves
 * the link. What an earlier run left half-written is removed.
 *
 * @throws InputError when the folder exists and was not written by this function, or cannot be written
 */
export async function replaceFolder(
  folder: string,
  files: FolderFiles,
  { caller, private: isPrivate = false }: WriteOptions,
): Promise<void> {
  const target = resolve(folder);
  const parent = dirname(target);
  const name = basename(target);
  try {
    await mkdir(parent, { recursive: true });
  } catch (error) {
    throw fileFault(error, target, caller);
  }
  await whileLocked(target, { caller }, async () => {
    const old = await linkedFolder(target, name, caller);
    await removeLeftovers(parent, name, old);
    const fresh = `.${name}-${randomBytes(6).toString("hex")}`;
    try {
      await mkdir(join(parent, fresh), { mode: isPrivate ? 0o700 : 0o777 });
      for (const path of files.keys()) {
        await mkdir(dirname(join(parent, fresh, path)), { recursive: true });
      }
      await Promise.all(
        [...files].map(([path, content]) =>
          writeNew(join(parent, fresh, path), content, { caller, private: isPrivate }),
        ),
      );
      const link = join(parent, `${fresh}-link`);
      await symlink(fresh, link, "dir");
      await rename(link, target);
      await syncFolder(parent);
    } catch (error) {
      await rm(join(parent, fresh), { recursive: true, force: true }).catch(() => {});
      await rm(join(parent, `${fresh}-link`), { force: true }).catch(() => {});
      throw fileFault(error, target, caller);
    }
    await removeLeftovers(parent, name, fresh);
  });
}

/**
 * Says before a long run that its report could not be written.
 *
 * @throws InputError when the folder exists and was not written by `writeReport`, or is within a file
 */
export async function requireOwnFolder(folder: string): Promise<void> {
  const target = resolve(folder);
  await linkedFolder(target, basename(target), "writeReport");
  for (let parent = dirname(target); parent !== dirname(parent); parent = dirname(parent)) {
    const status = await stat(parent).catch(() => null);
    if (status === null) continue;
    if (status.isDirectory()) return;
    throw new InputError(`writeReport requires a folder to write in, got the file ${parent}`);
  }
}

async function linkedFolder(target: string, name: string, caller: string): Promise<string | null> {
  const status = await lstat(target).catch(() => null);
  if (status === null) return null;
  const linked = status.isSymbolicLink() ? await readlink(target) : null;
  if (linked === null || !ownName(name).test(linked)) {
    throw new InputError(
      `${caller} requires a folder that does not exist or that it wrote itself, got ${name}; name another folder or remove it`,
    );
  }
  return linked;
}

/** Removes the folders that earlier runs wrote, but the one that is kept. */
async function removeLeftovers(parent: string, name: string, kept: string | null) {
  for (const entry of await readdir(parent)) {
    if (ownName(name).test(entry) && entry !== kept)
      await rm(join(parent, entry), { recursive: true, force: true });
  }
}

function ownName(name: string): RegExp {
  const literal = name.replace(/[.*+?^${}()|[\]\\]/g, "\\$&");
  return new RegExp(`^\\.${literal}-[0-9a-f]{12}(-link)?$`);
}
