// Every layout of the corpus, with the columns of one role of one file under names that mean nothing in any
// language: what the names do not say is known by cells and other columns, or asked, and never wrong without a
// word. Counts: unknownNames.json. npx vitest run --config vitest.long.config.ts tests/prepare/unknownNames.long.ts
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, expect, it } from "vitest";
import { prepareFiles } from "../../src/prepare/index.js";
import { InputError } from "../../src/results/index.js";
import { judge } from "./corpus/judge.js";
import { type FileTruth, type WrittenLayout, writeLayout } from "./corpus/layout.js";
import { allParts } from "./corpus/parts.js";

const words =
  "Vorpal Zubbet Quimsy Tarnoff Wexil Prundle Gostik Hembra Lufwin Morbex Dankil Sorvit Jaxol Kelvra Pimbor Rastun".split(
    " ",
  );
const folder = mkdtempSync(join(tmpdir(), "unknown-names-"));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

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

const parts = allParts();

function refusal(error: unknown): null {
  if (error instanceof InputError) return null;
  throw error;
}

it("no name that means nothing makes anything wrong without a word", async () => {
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
  writeFileSync(
    new URL("unknownNames.json", import.meta.url),
    `${JSON.stringify({ kind: "unknown-names", ...counts, wrong }, null, 2)}\n`,
  );
  expect(wrong).toEqual([]);
}, 7_200_000);
