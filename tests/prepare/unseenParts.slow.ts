// The fourth to ninth part of the corpus (corpus/README.md) were measured once before their layouts were known to
// anybody who works on the detector. What was wrong then is in that record; today nothing is wrong without a word.
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { prepareFiles } from "../../src/prepare/index.js";
import {
  eighthPart,
  fifthPart,
  fourthPart,
  ninthPart,
  seventhPart,
  sixthPart,
} from "./corpus/folders.js";
import { judge } from "./corpus/judge.js";
import { type WrittenLayout, writeLayout } from "./corpus/layout.js";

interface Measured {
  readonly layout: string;
  readonly columns: number;
  readonly rightUnasked: number;
  readonly asked: number;
  readonly wrong: readonly string[];
}
const parts: readonly { readonly name: string; readonly layouts: () => WrittenLayout[] }[] = [
  { name: "fourth", layouts: fourthPart },
  { name: "fifth", layouts: fifthPart },
  { name: "sixth", layouts: sixthPart },
  { name: "seventh", layouts: seventhPart },
  { name: "eighth", layouts: eighthPart },
  { name: "ninth", layouts: ninthPart },
];

const folder = mkdtempSync(join(tmpdir(), "unseen-parts-"));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe.each(parts)("the $name part", ({ name, layouts }) => {
  const unseen: { readonly layouts: readonly Measured[]; readonly refused?: readonly string[] } =
    JSON.parse(readFileSync(`tests/prepare/corpus/${name}/unseen.json`, "utf8"));
  const refused = (one: WrittenLayout) => unseen.refused?.includes(one.name) === true;
  it("the record holds every layout", () => {
    expect(unseen.layouts.map(({ layout }) => layout)).toEqual(
      layouts().flatMap((one) => (refused(one) ? [] : [one.name])),
    );
  });

  it.each(layouts().filter(refused))("$name is refused with its lines", async (one) => {
    const paths = await writeLayout(one, join(folder, one.name, "raw"));
    await expect(
      prepareFiles(paths, undefined, { to: join(folder, one.name, "study") }),
    ).rejects.toThrow(/names? of the columns|columns of different names|one line of names/);
  });

  it("nothing is wrong without a word, and few questions are needless", async () => {
    const total = { columns: 0, right: 0, asked: 0, needless: 0, wrong: 0 };
    const first = { columns: 0, right: 0, asked: 0, wrong: 0 };
    const today: string[] = [];
    for (const one of layouts().filter((each) => !refused(each))) {
      const paths = await writeLayout(one, join(folder, one.name, "raw"));
      const made = await prepareFiles(paths, undefined, { to: join(folder, one.name, "study") });
      const { columns, right, asked, needless, wrong } = judge(one, made);
      today.push(...wrong.map((fault) => `${one.name}: ${fault}`));
      total.columns += columns;
      total.right += right - (asked - needless.length);
      total.asked += asked;
      total.needless += needless.length;
      total.wrong += wrong.length;
    }
    for (const { columns, rightUnasked, asked, wrong } of unseen.layouts) {
      first.columns += columns;
      first.right += rightUnasked;
      first.asked += asked;
      first.wrong += wrong.length;
    }
    console.info(`${name} part, unseen and today:`, first, total);
    expect(today).toEqual([]);
    expect(total.needless).toBeLessThan(0.02 * total.columns);
  }, 120_000);
});
