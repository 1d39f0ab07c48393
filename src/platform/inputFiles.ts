import { InputError } from "../results/index.js";
import { fileState, partsOf, whatIs } from "./node/files.js";
import { sha256OfParts } from "./node/hashes.js";
import { basename } from "./node/paths.js";

/**
 * Hashes files, works on them, and looks whether they are still the same: size, times and the file itself.
 * So the hashes are those of the bytes that the work has read.
 *
 * @param paths files, of which those that are not there are left to the work to name
 * @throws when one was written to or replaced meanwhile
 */
export async function whileUnchanged<T>(
  caller: string,
  paths: readonly string[],
  work: () => Promise<T>,
): Promise<{ readonly result: T; readonly inputs: ReadonlyMap<string, string> }> {
  const inputs = new Map<string, string>();
  const result = await whileSame(caller, paths, async () => {
    for (const path of new Set(paths)) {
      if ((await whatIs(path))?.kind === "file") inputs.set(path, await hashOfFile(path));
    }
    return work();
  });
  return { result, inputs };
}

/** The same without hashes. */
export async function whileSame<T>(
  caller: string,
  paths: readonly string[],
  work: () => Promise<T>,
): Promise<T> {
  const before = await Promise.all(paths.map(fileState));
  const result = await work();
  for (const [at, path] of paths.entries()) await requireUnchanged(caller, path, before[at]);
  return result;
}

/** Refuses a file that is another than it was at `state`. */
export async function requireUnchanged(
  caller: string,
  path: string,
  state: string | undefined,
): Promise<void> {
  if ((await fileState(path)) === state) return;
  throw new InputError(
    `${caller} requires files that stay as they are while they are read, got a change of ${basename(path)}; ` +
      "wait until it is written, and run again",
  );
}

/** SHA-256 of a file's bytes, in parts. */
export function hashOfFile(path: string): Promise<string> {
  return sha256OfParts(partsOf(path));
}
