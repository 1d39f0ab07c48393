import { existsSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";

/** The path of a file that the package brings along, such as "src/boundary/shapes.jsonl". */
export function packagePath(name: string): string {
  return fileURLToPath(new URL(`../../../${name}`, import.meta.url));
}

export function packageText(name: string): string {
  return readFileSync(packagePath(name), "utf8");
}

export function packageBytes(name: string): Uint8Array {
  return readFileSync(packagePath(name));
}

/** Where a file of the built package lies, for a thread. */
export function builtFile(name: string): URL {
  return new URL(`../../../dist/${name}`, import.meta.url);
}

/** Whether such a file has been built. */
export function isBuilt(file: URL): boolean {
  return existsSync(fileURLToPath(file));
}

/** Whether this is the built package, and not its sources, which no thread could load. */
export function runsBuilt(): boolean {
  return !import.meta.url.endsWith(".ts");
}
