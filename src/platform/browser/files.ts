import { keepInMemory, memoryFile, pathsWithin, removeFromMemory } from "./memoryFiles.js";
import { resolve } from "./paths.js";

export { keepInMemory, pathsWithin };

export async function whatIs(
  path: string,
): Promise<{ readonly kind: "file" | "folder" | "other"; readonly size: number } | null> {
  const found = memoryFile(resolve(path));
  if (found !== undefined) return { kind: "file", size: found.bytes.length };
  return pathsWithin(resolve(path)).length > 0 ? { kind: "folder", size: 0 } : null;
}

export function exists(path: string): boolean {
  return memoryFile(resolve(path)) !== undefined || pathsWithin(resolve(path)).length > 0;
}

export async function fileState(path: string): Promise<string | undefined> {
  return memoryFile(resolve(path))?.state.toString();
}

export async function readBytes(path: string): Promise<Uint8Array> {
  const found = memoryFile(resolve(path));
  if (found === undefined) throw Object.assign(new Error(`no file ${path}`), { code: "ENOENT" });
  return found.bytes;
}

export async function readText(path: string): Promise<string> {
  return new TextDecoder().decode(await readBytes(path));
}

export async function readStart(path: string, most: number): Promise<Uint8Array> {
  return (await readBytes(path)).subarray(0, most);
}

export async function* partsOf(path: string, atOnce = 1 << 16): AsyncGenerator<Uint8Array> {
  const bytes = await readBytes(path);
  for (let at = 0; at < bytes.length; at += atOnce) yield bytes.subarray(at, at + atOnce);
}

export async function* unzippedParts(path: string): AsyncGenerator<Uint8Array> {
  const packed = new Blob([(await readBytes(path)) as Uint8Array<ArrayBuffer>]).stream();
  const reader = packed.pipeThrough(new DecompressionStream("gzip")).getReader();
  try {
    for (let part = await reader.read(); !part.done; part = await reader.read()) yield part.value;
  } finally {
    await reader.cancel().catch(() => {});
  }
}

export async function namesIn(folder: string): Promise<string[]> {
  const start = resolve(folder).replace(/\/$/, "").length + 1;
  return [...new Set(pathsWithin(resolve(folder)).map((path) => path.slice(start).split("/")[0]))];
}

/** A folder in memory is there as soon as a file is in it. */
export async function makeFolders(
  _folder: string,
  _options?: { readonly private?: boolean },
): Promise<void> {}

export async function removeFile(path: string): Promise<void> {
  removeFromMemory(resolve(path));
}
