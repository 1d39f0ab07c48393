import { InputError } from "../../results/index.js";

const given = new Map<string, string | Uint8Array>();

/** Files of the package that a page brings along, by the names that they have there. */
export function givePackageFile(name: string, content: string | Uint8Array): void {
  given.set(name, content);
}

export function packagePath(name: string): string {
  return `/package/${name}`;
}

export function packageText(name: string): string {
  const content = contentOf(name);
  return typeof content === "string" ? content : new TextDecoder().decode(content);
}

export function packageBytes(name: string): Uint8Array {
  const content = contentOf(name);
  return typeof content === "string" ? new TextEncoder().encode(content) : content;
}

function contentOf(name: string): string | Uint8Array {
  const content = given.get(name);
  if (content === undefined)
    throw new InputError(`a page requires ${name}, got none; use the command line for this`);
  return content;
}

export function builtFile(name: string): URL {
  return new URL(`file:///${name}`);
}

export function isBuilt(_file: URL): boolean {
  return false;
}

export function runsBuilt(): boolean {
  return false;
}
