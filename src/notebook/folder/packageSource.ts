import { readFileSync } from "node:fs";
import { dirname, join, relative, resolve } from "node:path";
import { fileURLToPath } from "node:url";

interface Installed {
  readonly packages?: Readonly<Record<string, { readonly resolved?: string } | undefined>>;
}

/**
 * Where npm finds this package from a new folder: the packed file it was installed from, if it was
 * installed from one, else its version.
 */
export function packageSource(folder: string): string {
  const root = dirname(dirname(dirname(dirname(fileURLToPath(import.meta.url)))));
  const { name, version } = JSON.parse(readFileSync(join(root, "package.json"), "utf8"));
  const modules = dirname(root);
  try {
    const installed: Installed = JSON.parse(
      readFileSync(join(modules, ".package-lock.json"), "utf8"),
    );
    const from = installed.packages?.[`node_modules/${name}`]?.resolved;
    if (from?.startsWith("file:")) {
      return `file:${relative(folder, resolve(dirname(modules), from.slice("file:".length)))}`;
    }
  } catch {
    // not installed by npm: a checkout, which the version stands for
  }
  return `^${version}`;
}
