import { unzipSync } from "fflate";
import { notATable } from "../../cohort/read/sniffBytes.js";
import { nameOf } from "./placeOf.js";

/** Files that were chosen, and why others were refused. */
export interface Taken {
  readonly files: ReadonlyMap<string, Uint8Array>;
  readonly refused: readonly string[];
}

/** Takes ZIPs apart, and refuses at once what cannot be a table. */
export function taken(chosen: ReadonlyMap<string, Uint8Array>, most: number): Taken {
  const files = new Map<string, Uint8Array>();
  const refused: string[] = [];
  for (const [name, bytes] of chosen) {
    if (/\.zip$/i.test(name)) {
      try {
        for (const [path, part] of unzipped(name, bytes, most)) files.set(path, part);
      } catch (error) {
        refused.push((error as Error).message);
      }
      continue;
    }
    const why = /\.json$/i.test(name) ? null : notATable(name, bytes);
    if (why === null) files.set(name, bytes);
    else refused.push(`This needs ${why}.`);
  }
  return { files, refused };
}

/** What a study needs of a ZIP, by name; a report's own tables and pictures are left in it. */
function unzipped(name: string, bytes: Uint8Array, most: number): [string, Uint8Array][] {
  let size = 0;
  let parts: Record<string, Uint8Array>;
  try {
    parts = unzipSync(bytes, {
      filter({ name: path, originalSize }) {
        const isWanted =
          /\.(csv|tsv|txt|xlsx|json)$/i.test(path) &&
          !/(^|\/)(tables|figures|__MACOSX)\//.test(path);
        if (isWanted) size += originalSize;
        if (size > 4 * most) throw new TooLarge();
        return isWanted;
      },
    });
  } catch (error) {
    if (error instanceof TooLarge) {
      throw new Error(
        `${name} holds more than a page takes, unpacked. Choose the files that are needed.`,
      );
    }
    throw new Error(
      `${name} is no intact ZIP. Save it once more, or choose the files that were in it.`,
    );
  }
  const entries = Object.entries(parts).map(([path, part]): [string, Uint8Array] => [
    nameOf(path),
    part,
  ]);
  if (entries.length === 0) {
    throw new Error(`${name} holds no file of a study: CSV, TSV, XLSX, or what this page saved.`);
  }
  if (new Set(entries.map(([path]) => path)).size < entries.length) {
    throw new Error(
      `${name} holds several files of one name. Unpack it, and choose the right ones.`,
    );
  }
  return entries;
}

class TooLarge extends Error {}
