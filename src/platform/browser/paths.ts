// Paths as POSIX writes them.

let ownFolder = "";

/** The folder that paths start from; the root, unless another is named. */
export function workIn(folder: string): void {
  ownFolder = folder;
}

export function resolve(...parts: string[]): string {
  let path = ownFolder;
  for (const part of parts) path = part.startsWith("/") ? part : `${path}/${part}`;
  const names: string[] = [];
  for (const name of path.split("/")) {
    if (name === "..") names.pop();
    else if (name !== "" && name !== ".") names.push(name);
  }
  return `/${names.join("/")}`;
}

export function join(...parts: string[]): string {
  const path = resolve("/", ...parts.map((part) => `./${part}`));
  return parts[0]?.startsWith("/") ? path : path.slice(1) || ".";
}

export function basename(path: string): string {
  return path.replace(/\/+$/, "").split("/").at(-1) ?? "";
}

export function dirname(path: string): string {
  const at = path.replace(/\/+$/, "").lastIndexOf("/");
  if (at <= 0) return path.startsWith("/") ? "/" : ".";
  return path.slice(0, at);
}

export function relative(from: string, to: string): string {
  const [start, end] = [from, to].map((path) => resolve(path).split("/").filter(Boolean));
  let same = 0;
  while (same < start.length && same < end.length && start[same] === end[same]) same++;
  return [...start.slice(same).map(() => ".."), ...end.slice(same)].join("/");
}
