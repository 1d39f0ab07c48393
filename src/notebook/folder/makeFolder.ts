import { existsSync, mkdirSync, writeFileSync } from "node:fs";
import { basename, dirname, join, resolve } from "node:path";
import { InputError } from "../../results/index.js";
import { copyNotebook, packedNotebook } from "./copyNotebook.js";
import { firstNotebook } from "./firstNotebook.js";
import { columnsFindings, columnsReadings, firstProtocol } from "./firstStudy.js";
import { dataIgnore, dataReadme, ignore, manifest, readme } from "./folderTexts.js";
import { inventedData } from "./inventedData.js";
import { packageSource } from "./packageSource.js";

/**
 * Makes a researcher's own project: what it needs, a protocol, a notebook, and invented data to
 * try them on, kept out of version control together with whatever data come later.
 *
 * @param options.notebook a notebook of the package to copy as well, with the data that it reads
 * @returns the paths written, relative to the folder
 * @throws when the folder exists
 */
export async function makeFolder(
  path: string,
  { notebook }: { readonly notebook?: string } = {},
): Promise<string[]> {
  const wanted = notebook === undefined ? null : packedNotebook(notebook);
  const folder = resolve(path);
  const name = basename(folder);
  if (!/^[a-z0-9][a-z0-9._-]*$/.test(name)) {
    throw new InputError(
      `folder requires a name of small letters, digits, dots and hyphens, got "${name}"`,
    );
  }
  if (existsSync(folder)) throw new InputError(`folder requires a new folder, got ${path}`);
  const { readings, findings } = await inventedData();
  const json = (value: object) => `${JSON.stringify(value, null, 2)}\n`;
  const files: Readonly<Record<string, string>> = {
    "package.json": json(manifest(name, packageSource(folder))),
    "README.md": readme(name),
    ".gitignore": ignore,
    "protocol.json": json(firstProtocol),
    "columns-readings.json": json(columnsReadings),
    "columns-findings.json": json(columnsFindings),
    "data/README.md": dataReadme,
    "data/.gitignore": dataIgnore,
    "data/invented-readings.csv": readings,
    "data/invented-findings.csv": findings,
    "notebooks/01-first-look.ipynb": firstNotebook(),
  };
  for (const [file, text] of Object.entries(files)) {
    mkdirSync(dirname(join(folder, file)), { recursive: true });
    writeFileSync(join(folder, file), text);
  }
  return [...Object.keys(files), ...(wanted === null ? [] : copyNotebook(wanted, folder))];
}
