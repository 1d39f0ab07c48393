import { keepInMemory } from "./memoryFiles.js";
import { resolve } from "./paths.js";

export interface Writing {
  write(text: string): Promise<unknown>;
}

export type FileContent = string | Uint8Array | ((file: Writing) => Promise<void>);

export interface WriteOptions {
  readonly caller: string;
  readonly private?: boolean;
}

/** Kept in memory once it is whole. */
export async function writeFileWhole(
  path: string,
  content: FileContent,
  _options: WriteOptions,
): Promise<void> {
  if (typeof content !== "function") return keepInMemory(resolve(path), content);
  const parts: string[] = [];
  await content({ write: async (text) => parts.push(text) });
  keepInMemory(resolve(path), parts.join(""));
}
