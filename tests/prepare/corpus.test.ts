// Invented exports, each with what is true of it (tests/prepare/corpus/README.md). The detector was built on
// the first half; the second was written by somebody who had not seen it, and is only reported on.
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { prepareFiles } from "../../src/prepare/index.js";
import { inventedCohort } from "./corpus/first/cohort.js";
import { firstHalf } from "./corpus/first/index.js";
import { thirdPart } from "./corpus/third/index.js";
import { judge, type Verdict } from "./corpus/judge.js";
import { type Layout, type WrittenLayout, writeLayout } from "./corpus/layout.js";

let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "corpus-"));
});
afterAll(() => rmSync(folder, { recursive: true }));

const second = "tests/prepare/corpus/second";
function secondHalf(): WrittenLayout[] {
  const names = existsSync(second) ? readdirSync(second).sort() : [];
  return names
    .filter((name) => existsSync(join(second, name, "layout.json")))
    .map((name) => {
      const layout: Layout = JSON.parse(readFileSync(join(second, name, "layout.json"), "utf8"));
      const texts = layout.files.map(({ file }) => [
        file,
        readFileSync(join(second, name, file), "utf8"),
      ]);
      return { name, layout, texts: Object.fromEntries(texts) };
    });
}

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

  it("the half of somebody else: printed", async () => {
    await report("second half", secondHalf());
  }, 120_000);

  it("the third part, written after the rules were: printed", async () => {
    await report("third part", thirdPart());
  }, 120_000);
});
