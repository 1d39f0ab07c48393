// The fourth and fifth part of the corpus (corpus/README.md) were measured once before their layouts were known to
// anybody who works on the detector. Their faults today are those that `left` lists, each of them in that record.
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { prepareFiles } from "../../src/prepare/index.js";
import { fifthPart, fourthPart } from "./corpus/folders.js";
import { judge } from "./corpus/judge.js";
import { type WrittenLayout, writeLayout } from "./corpus/layout.js";

interface Measured {
  readonly layout: string;
  readonly columns: number;
  readonly rightUnasked: number;
  readonly asked: number;
  readonly wrong: readonly string[];
}
interface Part {
  readonly name: string;
  readonly layouts: () => WrittenLayout[];
  /** Faults of the record that are there still, as "layout: fault". */
  readonly left: readonly string[] | "all";
}
const parts: readonly Part[] = [
  {
    name: "fourth",
    layouts: fourthPart,
    left: ["workbook-serial-days: link: 0 of 32 children match"],
  },
  { name: "fifth", layouts: fifthPart, left: "all" },
];

const folder = mkdtempSync(join(tmpdir(), "unseen-parts-"));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe.each(parts)("the $name part", ({ name, layouts, left }) => {
  const unseen: { readonly layouts: readonly Measured[] } = JSON.parse(
    readFileSync(`tests/prepare/corpus/${name}/unseen.json`, "utf8"),
  );
  const faults = unseen.layouts.flatMap(({ layout, wrong }) =>
    wrong.map((one) => `${layout}: ${one}`),
  );

  it("the record holds every layout, and what is left was a fault", () => {
    expect(unseen.layouts.map(({ layout }) => layout)).toEqual(layouts().map((one) => one.name));
    if (left !== "all") expect(left.filter((one) => !faults.includes(one))).toEqual([]);
  });

  it("its faults today are those that are left", async () => {
    const total = { columns: 0, right: 0, asked: 0, needless: 0, wrong: 0 };
    const first = { columns: 0, right: 0, asked: 0, wrong: 0 };
    const today: string[] = [];
    for (const one of layouts()) {
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
    expect(today).toEqual(left === "all" ? faults : left);
  }, 120_000);
});
