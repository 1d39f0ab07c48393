import { auditFile, readKeyTable } from "../cohort/index.js";
import { join, namesIn, packagePath, readBytes, readText, sha256 } from "../platform/index.js";
import { InputError } from "../results/index.js";
import type { PathAndBytes } from "./messages.js";

/** A file that a page brings along, and what is said of it. */
export interface FileToEmbed {
  readonly path: string;
  readonly bytes: Uint8Array;
  /** Its README, with source and licence; null for a file that is not the package's own. */
  readonly about: string | null;
}

/**
 * Which of the files that a notebook reads may stand in its page: the package's own data sets, with their
 * READMEs, since their licences let them be passed on; any other only where its owner says so, and never one
 * that holds identifiers or is a key table.
 *
 * @throws InputError that names the files and what would help
 */
export async function filesToEmbed(
  files: readonly PathAndBytes[],
  { embedData }: { readonly embedData: boolean },
): Promise<readonly FileToEmbed[]> {
  const own = await ownData();
  const known = files.map(([path, bytes]) => ({
    path,
    bytes,
    about: own.get(sha256(bytes)) ?? null,
  }));
  const others = known.filter(({ about }) => about === null);
  if (others.length > 0 && !embedData) {
    throw new InputError(
      `page requires --embed-data for files that are not the package's own, got ${others.map(({ path }) => path).join(", ")}; ` +
        "with it you say that they may be passed on: whoever has the page has them",
    );
  }
  for (const { path } of others) await requireShareable(path);
  return known;
}

async function requireShareable(path: string): Promise<void> {
  const isKey = await readKeyTable(path, "page").then(
    ({ numbers }) => numbers.size > 0,
    () => false,
  );
  if (isKey) {
    throw new InputError(
      `page requires files without a way back to children, got a key table (${path}); a key table is never passed on`,
    );
  }
  if (!/\.(csv|tsv|xlsx)$/i.test(path)) return;
  const { identifiers } = await auditFile(path);
  // one column of codes without a telling name is that of study numbers
  const codes = identifiers.filter(
    ({ kind, because }) => kind === "unique-code" && because === "cells",
  );
  const others = identifiers.filter((one) => codes.length > 1 || !codes.includes(one));
  if (others.length === 0) return;
  const columns = [...new Set(others.map(({ column }) => column))].join(", ");
  throw new InputError(
    `page requires files without identifiers, got ${path} (${columns}); meridional prepare makes study files without them`,
  );
}

/** The package's data by their hash, with the README of their folder. */
async function ownData(): Promise<ReadonlyMap<string, string>> {
  const data = packagePath("data");
  const own = new Map<string, string>();
  for (const set of await namesIn(data)) {
    const folder = join(data, set);
    const about = await readText(join(folder, "README.md")).catch(() => "");
    for (const name of await namesIn(folder))
      own.set(sha256(await readBytes(join(folder, name))), about);
  }
  return own;
}
