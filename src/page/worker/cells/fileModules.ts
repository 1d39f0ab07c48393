// What notebooks use of node:fs, node:path and node:os, on the files in the page's memory.
import {
  forgetFolder,
  keepInMemory,
  memoryFile,
  pathsWithin,
} from "../../../platform/browser/index.js";
import { basename, dirname, join, relative, resolve } from "../../../platform/index.js";

/** Bytes that read as text where a text is asked for. */
class Bytes extends Uint8Array {
  override toString(encoding = "utf8"): string {
    if (!/^utf-?8$/i.test(encoding)) {
      throw new Error(`a file in a page requires "utf8" to be read as text, got ${encoding}`);
    }
    return new TextDecoder().decode(this);
  }
}

type Encoding = string | { readonly encoding?: string | null } | null;

const encodingOf = (given: Encoding | undefined) =>
  typeof given === "string" ? given : given?.encoding;

function missing(path: string, call: string): Error {
  const message = `ENOENT: no such file or directory, ${call} '${path}'`;
  return Object.assign(new Error(message), { code: "ENOENT", path, syscall: call });
}

function readFileSync(path: string, given?: Encoding): string | Uint8Array {
  const found = memoryFile(resolve(String(path)));
  if (found === undefined) throw missing(String(path), "open");
  const bytes = new Bytes(found.bytes);
  const encoding = encodingOf(given);
  return encoding == null ? bytes : bytes.toString(encoding);
}

function writeFileSync(path: string, content: string | Uint8Array): void {
  keepInMemory(resolve(path), typeof content === "string" ? content : new Uint8Array(content));
}

function existsSync(path: string): boolean {
  const full = resolve(path);
  return memoryFile(full) !== undefined || pathsWithin(full).length > 0;
}

function readdirSync(folder: string): string[] {
  const full = resolve(folder);
  const start = full === "/" ? 1 : full.length + 1;
  const names = pathsWithin(full).map((path) => path.slice(start).split("/")[0]);
  if (names.length === 0) throw missing(folder, "scandir");
  return [...new Set(names)].sort();
}

let folders = 0;

function mkdtempSync(start: string): string {
  folders++;
  return `${start}${folders}`;
}

const rmSync = (path: string) => forgetFolder(resolve(path));
// a folder in memory is there as soon as a file is in it
const mkdirSync = () => undefined;

const now = {
  readFileSync,
  writeFileSync,
  existsSync,
  readdirSync,
  mkdtempSync,
  rmSync,
  mkdirSync,
};

const later = {
  readFile: async (path: string, given?: Encoding) => readFileSync(path, given),
  writeFile: async (path: string, content: string | Uint8Array) => writeFileSync(path, content),
  readdir: async (folder: string) => readdirSync(folder),
  mkdtemp: async (start: string) => mkdtempSync(start),
  rm: async (path: string) => rmSync(path),
  mkdir: async () => undefined,
};

const fs = { ...now, promises: later };
const path = { basename, dirname, join, relative, resolve };
const os = { tmpdir: () => "/tmp" };

export const fileModules = {
  "node:fs": { ...fs, default: fs },
  "node:fs/promises": { ...later, default: later },
  "node:path": { ...path, default: path },
  "node:os": { ...os, default: os },
};
