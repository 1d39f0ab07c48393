/**
 * A strict reading of BibTeX: entries of lower-case types with a plain key, fields of plain names each once,
 * values in balanced braces, commas between, nothing around. Throws where a text is anything else.
 * The form is that of the manual of BibTeX (Patashnik, BibTeXing, 1988), as a subset.
 */
export function bibtexEntries(
  text: string,
): { type: string; key: string; fields: Map<string, string> }[] {
  let at = 0;
  const take = (pattern: RegExp, wanted: string): string => {
    const found = new RegExp(pattern.source, "y");
    found.lastIndex = at;
    const match = found.exec(text);
    if (!match) throw new Error(`${wanted} at ${at}: ${text.slice(at, at + 40)}`);
    at = found.lastIndex;
    return match[1] ?? "";
  };
  const braced = (): string => {
    take(/\{/, "an opening brace");
    const start = at;
    for (let depth = 1; depth > 0; at++) {
      if (at >= text.length) throw new Error(`no closing brace after ${start}`);
      const escaped = text[at - 1] === "\\";
      if (text[at] === "{" && !escaped) depth++;
      if (text[at] === "}" && !escaped) depth--;
      if (text[at] === "%" && !escaped) throw new Error(`a comment at ${at}`);
    }
    return text.slice(start, at - 1);
  };
  const entries = [];
  while (at < text.length) {
    const type = take(/@([a-z]+)\{/, "a type");
    const key = take(/([A-Za-z][A-Za-z0-9]*),\n/, "a key");
    const fields = new Map<string, string>();
    for (;;) {
      const name = take(/ {2}([a-z]+) = /, "a field");
      if (fields.has(name)) throw new Error(`${name} twice in ${key}`);
      fields.set(name, braced());
      if (text[at] !== ",") break;
      take(/,\n/, "a comma");
    }
    take(/\n\}\n\n?/, "the end of an entry");
    entries.push({ type, key, fields });
  }
  return entries;
}
