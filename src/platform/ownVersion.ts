import { packageText } from "./node/packageFiles.js";

/** The version of this library, as its package says. */
export function ownVersion(): string {
  return JSON.parse(packageText("package.json")).version;
}
