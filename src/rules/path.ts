/** A place in the JSON, such as "bands[0].referWhen[1].quantity". */
export function pathText(path: readonly PropertyKey[]): string {
  if (path.length === 0) return "(the whole rule)";
  return path
    .map((part) => (typeof part === "number" ? `[${part}]` : `.${String(part)}`))
    .join("")
    .replace(/^\./, "");
}
