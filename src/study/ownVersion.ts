import { packageText } from "../platform/index.js";

/** The version of this library, as its package says. */
export function ownVersion(): string {
  return JSON.parse(packageText("package.json")).version;
}
