// Invented exports, each with what is true of it (tests/prepare/corpus/README.md). The detector was built on
// the first half; how the other two were first measured stands in corpus/README.md.
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { prepareFiles } from "../../src/prepare/index.js";
import { inventedCohort } from "./corpus/first/cohort.js";
import { firstHalf } from "./corpus/first/index.js";
import { secondHalf } from "./corpus/folders.js";
import { judge, type Verdict } from "./corpus/judge.js";
import { type WrittenLayout, writeLayout } from "./corpus/layout.js";
import { thirdPart } from "./corpus/third/index.js";

let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "corpus-"));
});
afterAll(() => rmSync(folder, { recursive: true }));

async function verdictOn(one: WrittenLayout): Promise<Verdict> {
  const paths = await writeLayout(one, join(folder, one.name, "raw"));
  return judge(one, await prepareFiles(paths, undefined, { to: join(folder, one.name, "study") }));
}

async function report(name: string, layouts: readonly WrittenLayout[]) {
  const verdicts: (Verdict & { name: string })[] = [];
  for (const layout of layouts) verdicts.push({ name: layout.name, ...(await verdictOn(layout)) });
  const sum = (key: "columns" | "right" | "asked") =>
    verdicts.reduce((total, one) => total + one[key], 0);
  const wrong = verdicts.flatMap(({ name: layout, wrong }) =>
    wrong.map((text) => `${layout}: ${text}`),
  );
  const text = `${name}: ${layouts.length} layouts, ${sum("columns")} columns, ${sum("right")} right unasked, ${sum("asked")} asked, ${wrong.length} wrong without a word`;
  console.info([text, ...wrong.map((one) => `  ${one}`)].join("\n"));
  return { right: sum("right") / sum("columns"), wrong };
}

describe("how sure each guess is", () => {
  it("the half it was built on: nothing wrong without a word", async () => {
    const { right, wrong } = await report("first half", firstHalf(inventedCohort(60, 20261130)));
    expect(wrong).toEqual([]);
    expect(right).toBeGreaterThan(0.9);
  }, 120_000);

  it("the half of somebody else", async () => {
    const { right, wrong } = await report("second half", secondHalf());
    expect(wrong).toEqual([]);
    expect(right).toBeGreaterThan(0.9);
  }, 120_000);

  it("the third part, written after the rules were", async () => {
    const { right, wrong } = await report("third part", thirdPart());
    expect(wrong).toEqual([]);
    expect(right).toBeGreaterThan(0.9);
  }, 120_000);
});
