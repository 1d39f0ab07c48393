import { keepInMemory, removeFromMemory } from "./memoryFiles.js";
import { join, resolve } from "./paths.js";
import type { WriteOptions } from "./writeFileWhole.js";

export async function replaceFolder(
  folder: string,
  files: ReadonlyMap<string, string | Uint8Array>,
  _options: WriteOptions,
): Promise<void> {
  const target = resolve(folder);
  removeFromMemory(target);
  for (const [path, content] of files) keepInMemory(join(target, path), content);
}

/** Nobody else writes to a page's memory. */
export async function requireOwnFolder(_folder: string): Promise<void> {}
