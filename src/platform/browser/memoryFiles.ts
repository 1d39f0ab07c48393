/** What a page calls a file: bytes in memory by their path, gone with the page. */
interface MemoryFile {
  readonly bytes: Uint8Array;
  /** Another number after each writing. */
  readonly state: number;
}

const files = new Map<string, MemoryFile>();
let writings = 0;

let outside: ((path: string) => Uint8Array | undefined) | undefined;

/** Where files are looked for that are not in memory, while a page is made; a page has no such place. */
export function lookOutside(given: typeof outside): void {
  outside = given;
}

export function memoryFile(path: string): MemoryFile | undefined {
  const known = files.get(path);
  const bytes = known === undefined ? outside?.(path) : undefined;
  if (bytes === undefined) return known;
  const found = { bytes, state: 0 };
  files.set(path, found);
  return found;
}

export function keepInMemory(path: string, content: string | Uint8Array): void {
  writings++;
  const bytes = typeof content === "string" ? new TextEncoder().encode(content) : content;
  files.set(path, { bytes, state: writings });
}

export function removeFromMemory(path: string): void {
  for (const name of [...files.keys()]) {
    if (name === path || name.startsWith(`${path}/`)) files.delete(name);
  }
}

/** Paths of the files in a folder and in those within it. */
export function pathsWithin(folder: string): string[] {
  const start = folder === "/" ? "/" : `${folder}/`;
  return [...files.keys()].filter((path) => path.startsWith(start));
}

/** Begins to look; the function it returns gives what was written since. */
export function writtenSince(): () => (readonly [path: string, bytes: Uint8Array])[] {
  const before = writings;
  return () =>
    [...files].flatMap(([path, { bytes, state }]) =>
      state > before ? [[path, bytes] as const] : [],
    );
}
