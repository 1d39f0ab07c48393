import { cpSync, existsSync, mkdirSync, readdirSync, readFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { didYouMean, InputError } from "../../results/index.js";

/** The package's own folder, in a checkout and installed. */
const root = dirname(dirname(dirname(dirname(fileURLToPath(import.meta.url)))));

/** Where a notebook of the package stands. @throws when there is none of the name, with those that there are */
export function packedNotebook(name: string): string {
  const names = readdirSync(join(root, "notebooks"))
    .filter((file) => file.endsWith(".ipynb"))
    .map((file) => file.replace(/\.ipynb$/, ""));
  const found = names.find((one) => one === name.replace(/\.ipynb$/, ""));
  if (found === undefined) {
    throw new InputError(
      `folder requires a notebook of the package, got "${name}"; ${didYouMean(name, names)}`,
    );
  }
  return join(root, "notebooks", `${found}.ipynb`);
}

/**
 * Copies a notebook of the package and the data that it reads into a folder, where it runs as it is.
 *
 * @returns what was copied, relative to the folder
 */
export function copyNotebook(path: string, folder: string): string[] {
  const file = join("notebooks", path.split(/[\\/]/).at(-1)!);
  mkdirSync(join(folder, "notebooks"), { recursive: true });
  cpSync(path, join(folder, file));
  const sources = new Set(
    [...readFileSync(path, "utf8").matchAll(/\.\.\/(data\/[a-z]+)/g)].map(([, one]) => one!),
  );
  const copied = [...sources].filter((one) => existsSync(join(root, one)));
  for (const one of copied) cpSync(join(root, one), join(folder, one), { recursive: true });
  return [file, ...copied];
}
