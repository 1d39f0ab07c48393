import { InputError } from "../results/index.js";
import { readText, whatIs } from "./node/files.js";
import { basename } from "./node/paths.js";

/** No protocol, mapping or result is longer. */
const longest = 200_000_000;

/**
 * The text of a file that is read at once, such as a protocol; null where there is none to read.
 *
 * @throws for a pipe or a device, which may never end, and for a file of more than 200 MB
 */
export async function readSmallFile(path: string, caller: string): Promise<string | null> {
  const found = await whatIs(path);
  if (found === null || found.kind === "folder") return null;
  if (found.kind !== "file") {
    throw new InputError(
      `${caller} requires a file, got ${basename(path)}, which is a pipe or a device; write it to a file first`,
    );
  }
  if (found.size > longest) {
    throw new InputError(
      `${caller} requires a file of at most ${longest / 1e6} MB, got ${basename(path)} of ${Math.ceil(found.size / 1e6)} MB`,
    );
  }
  return await readText(path).catch(() => null);
}

/**
 * What a JSON file holds.
 *
 * @param wanted in the message where there is none, such as "a protocol file"
 */
export async function readJsonFile(path: string, caller: string, wanted: string): Promise<object> {
  const text = await readSmallFile(path, caller);
  if (text === null) {
    throw new InputError(`${caller} requires ${wanted}, got no readable ${path}`);
  }
  let json: unknown;
  try {
    json = JSON.parse(text);
  } catch (error) {
    throw new InputError(`${caller} requires JSON in ${path}, got ${(error as Error).message}`);
  }
  if (typeof json === "object" && json !== null) return json;
  throw new InputError(
    `${caller} requires an object in braces in ${path}, got ${text.slice(0, 40)}`,
  );
}
