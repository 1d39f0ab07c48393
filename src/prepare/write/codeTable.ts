import { readText, secretInteger } from "../../platform/index.js";
import { InputError } from "../../results/index.js";

/** Codes in place of words, such as "Site 01", by their kind and word; kept with the key table. */
export type CodeTable = Map<string, Map<string, string>>;

/** The codes given before; none where there is no such file yet. */
export async function readCodeTable(path: string): Promise<CodeTable> {
  const codes: CodeTable = new Map();
  const text = await readText(path).catch((error: NodeJS.ErrnoException) => {
    if (error.code === "ENOENT") return "";
    throw new InputError(
      `prepareFiles requires a table of codes that can be read, got ${path}, which cannot; look at its permissions`,
    );
  });
  for (const line of text.split("\n").slice(1)) {
    if (line === "") continue;
    const [, kind, code, json] = /^(\w+),([^,]+),(".*")$/.exec(line) ?? [];
    if (json === undefined) {
      throw new InputError(
        `prepareFiles requires a table of codes as it wrote it, got another file (${path}); name another folder for the key`,
      );
    }
    listOf(codes, kind).set(JSON.parse(json) as string, code);
  }
  return codes;
}

/** Gives codes to words that have none yet, in an order that says nothing of the words. */
export function addCodes(codes: CodeTable, kind: string, words: Iterable<string>): void {
  const list = listOf(codes, kind);
  const fresh = [...words].filter((word) => word !== "" && !list.has(word));
  for (let left = fresh.length; left > 1; left--) {
    const other = secretInteger(left);
    [fresh[left - 1], fresh[other]] = [fresh[other], fresh[left - 1]];
  }
  for (const word of fresh) list.set(word, `${kind} ${String(list.size + 1).padStart(2, "0")}`);
}

export function codeTableText(codes: CodeTable): string {
  const lines = ["kind,code,word"];
  for (const [kind, list] of codes) {
    for (const [word, code] of list) lines.push(`${kind},${code},${JSON.stringify(word)}`);
  }
  return `${lines.join("\n")}\n`;
}

function listOf(codes: CodeTable, kind: string): Map<string, string> {
  const list = codes.get(kind) ?? new Map<string, string>();
  codes.set(kind, list);
  return list;
}
