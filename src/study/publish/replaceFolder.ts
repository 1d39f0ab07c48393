import { randomBytes } from "node:crypto";
import {
  lstat,
  mkdir,
  readdir,
  readlink,
  rename,
  rm,
  stat,
  symlink,
  writeFile,
} from "node:fs/promises";
import { basename, dirname, join, resolve } from "node:path";
import { InputError } from "../../results/index.js";

/** Files of a folder by relative path. */
type FolderFiles = ReadonlyMap<string, string | Uint8Array>;

/**
 * Replaces a whole folder at once: a kill at any moment leaves the old one or the new one.
 *
 * The files go to a hidden folder beside it first; `folder` is a link to that, and one rename moves
 * the link. What an earlier run left half-written is removed.
 *
 * @throws when the folder exists and was not written by this function
 */
export async function replaceFolder(folder: string, files: FolderFiles): Promise<void> {
  const target = resolve(folder);
  const parent = dirname(target);
  const name = basename(target);
  await mkdir(parent, { recursive: true });
  const old = await linkedFolder(target, name);
  const fresh = `.${name}-${randomBytes(6).toString("hex")}`;
  for (const [path, content] of files) {
    const file = join(parent, fresh, path);
    await mkdir(dirname(file), { recursive: true });
    await writeFile(file, content);
  }
  const link = join(parent, `${fresh}-link`);
  await symlink(fresh, link, "dir");
  await rename(link, target);
  await removeLeftovers(parent, name, fresh, old);
}

/**
 * Says before a long run that its report could not be written.
 *
 * @throws when the folder exists and was not written by `writeReport`, or is within a file
 */
export async function requireOwnFolder(folder: string): Promise<void> {
  const target = resolve(folder);
  await linkedFolder(target, basename(target));
  for (let parent = dirname(target); parent !== dirname(parent); parent = dirname(parent)) {
    const status = await stat(parent).catch(() => null);
    if (status === null) continue;
    if (status.isDirectory()) return;
    throw new InputError(`writeReport requires a folder to write in, got the file ${parent}`);
  }
}

async function linkedFolder(target: string, name: string): Promise<string | null> {
  const status = await lstat(target).catch(() => null);
  if (status === null) return null;
  const linked = status.isSymbolicLink() ? await readlink(target) : null;
  if (linked === null || !ownName(name).test(linked)) {
    throw new InputError(
      `writeReport requires a folder that does not exist or that it wrote itself, got ${name}; name another folder or remove it`,
    );
  }
  return linked;
}

async function removeLeftovers(parent: string, name: string, fresh: string, old: string | null) {
  for (const entry of await readdir(parent)) {
    const leftover = ownName(name).test(entry) || entry === old;
    if (leftover && entry !== fresh)
      await rm(join(parent, entry), { recursive: true, force: true });
  }
}

function ownName(name: string): RegExp {
  const literal = name.replace(/[.*+?^${}()|[\]\\]/g, "\\$&");
  return new RegExp(`^\\.${literal}-[0-9a-f]{12}(-link)?$`);
}
