import { rename, rm, writeFile } from "node:fs/promises";

/** Written beside its place and then moved, readable by its owner alone. */
export async function writeWhole(path: string, text: string): Promise<void> {
  const partial = `${path}.part`;
  try {
    await writeFile(partial, text, { mode: 0o600 });
    await rename(partial, path);
  } catch (error) {
    await rm(partial, { force: true });
    throw error;
  }
}
