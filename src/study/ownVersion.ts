import { readFileSync } from "node:fs";

/** The version of this library, as its package says. */
export function ownVersion(): string {
  const text = readFileSync(new URL("../../package.json", import.meta.url), "utf8");
  return JSON.parse(text).version;
}
