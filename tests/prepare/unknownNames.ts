// Every layout of the corpus, with the columns of one role of one file under names that mean nothing.
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { prepareFiles } from "../../src/prepare/index.js";
import { InputError } from "../../src/results/index.js";
import { judge } from "./corpus/judge.js";
import { type FileTruth, type WrittenLayout, writeLayout } from "./corpus/layout.js";
import { allParts } from "./corpus/parts.js";

const words =
  "Vorpal Zubbet Quimsy Tarnoff Wexil Prundle Gostik Hembra Lufwin Morbex Dankil Sorvit Jaxol Kelvra Pimbor Rastun".split(
    " ",
  );
/** The layout with other names for the columns of that role in that file; null where its header is no plain line. */
function renamed(one: WrittenLayout, file: FileTruth, role: string): WrittenLayout | null {
  const text = one.texts[file.file]!;
  const header = text.slice(0, text.search(/\r?\n/));
  const known = Object.keys(file.columns).length;
  const delimiter = [";", "\t", "|", ","].find((mark) => header.split(mark).length === known);
  if (delimiter === undefined || header.includes('"')) return null;
  const names = new Map<string, string>();
  let next = 0;
  for (const name of header.split(delimiter)) {
    const truth = file.columns[name];
    if (truth?.is !== role) continue;
    // both eyes have the same word, and the mark of an eye stays
    const word = words[truth.eye === undefined ? next++ : Math.floor(next++ / 2)]!;
    names.set(
      name,
      truth.eye === undefined ? word : `${word} ${truth.eye === "right" ? "OD" : "OS"}`,
    );
  }
  const other = (name: string) => names.get(name) ?? name;
  const changed = {
    ...file,
    columns: Object.fromEntries(
      Object.entries(file.columns).map(([name, is]) => [other(name), is]),
    ),
    ...(file.dateCells === undefined ? {} : { dateCells: file.dateCells.map(other) }),
  };
  const first = header.split(delimiter).map(other).join(delimiter);
  return {
    ...one,
    layout: {
      ...one.layout,
      files: one.layout.files.map((each) => (each === file ? changed : each)),
    },
    texts: { ...one.texts, [file.file]: first + text.slice(header.length) },
  };
}

function refusal(error: unknown): null {
  if (error instanceof InputError) return null;
  throw error;
}

export interface UnknownNames {
  readonly layouts: number;
  readonly runs: number;
  /** Lines above the header, one heading twice. */
  readonly refused: number;
  readonly columns: number;
  readonly right: number;
  readonly asked: number;
  readonly wrong: readonly string[];
}

/** Prepares each layout once for every role of every file, the columns of that role renamed. */
export async function unknownNames(): Promise<UnknownNames> {
  const folder = mkdtempSync(join(tmpdir(), "unknown-names-"));
  const parts = allParts();
  const counts = { layouts: parts.length, runs: 0, refused: 0, columns: 0, right: 0, asked: 0 };
  const wrong: string[] = [];
  for (const one of parts) {
    for (const file of one.layout.files) {
      for (const role of new Set(Object.values(file.columns).map(({ is }) => is))) {
        const changed = renamed(one, file, role);
        if (changed === null) continue;
        const own = mkdtempSync(join(folder, "run-"));
        const paths = await writeLayout(changed, join(own, "raw"));
        const made = await prepareFiles(paths, undefined, { to: join(own, "study") }).catch(
          refusal,
        );
        rmSync(own, { recursive: true });
        counts.runs++;
        // lines above the header, one heading twice: refused with the line, whatever the names
        if (made === null) {
          counts.refused++;
          continue;
        }
        const verdict = judge(changed, made);
        counts.columns += verdict.columns;
        counts.right += verdict.right;
        counts.asked += verdict.asked;
        wrong.push(...verdict.wrong.map((fault) => `${one.name}, ${role}: ${fault}`));
      }
    }
  }
  rmSync(folder, { recursive: true, force: true });
  return { ...counts, wrong };
}
