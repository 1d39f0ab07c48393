import { folders } from "../messages.js";

/** A path of the protocol in the page's memory. */
export function placeOf(path: string): string {
  const names: string[] = folders.study.split("/");
  for (const name of path.split("/")) {
    if (name === "..") names.pop();
    else if (name !== ".") names.push(name);
  }
  return names.join("/");
}

/** The last part of a path. */
export const nameOf = (path: string): string => path.split(/[\\/]/).at(-1) ?? path;
