import { InputError } from "../results/index.js";
import { filesIn } from "./filesIn.js";
import { readText, whatIs } from "./node/files.js";
import { basename, dirname } from "./node/paths.js";

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
    const near = await filesIn(dirname(path), basename(path), /\.json$/i);
    throw new InputError(
      `${caller} requires ${wanted}, got no readable ${path}; of JSON files ${near}`,
    );
  }
  let json: unknown;
  try {
    json = JSON.parse(text);
  } catch (error) {
    const { message } = error as Error;
    throw new InputError(
      `${caller} requires JSON in ${path}, got ${message} (line ${faultLine(text, message)}); look there for a comma, ` +
        "a quote or a bracket that is missing or too many",
    );
  }
  if (typeof json === "object" && json !== null) return json;
  throw new InputError(
    `${caller} requires an object in braces in ${path}, got ${text.slice(0, 40)}`,
  );
}

/** The line that a message of the JSON parser is about; the last one where it names no place. */
function faultLine(text: string, message: string): number {
  const [, at] = /at position (\d+)/.exec(message) ?? [];
  return text
    .slice(0, at === undefined ? undefined : Number(at))
    .trimEnd()
    .split("\n").length;
}
