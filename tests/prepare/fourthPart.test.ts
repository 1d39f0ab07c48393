// The fourth part of the corpus (corpus/README.md) was measured once before its layouts were known to anybody who
// works on the detector. Its faults are exactly those of that record, but for the ones that `mended` lists.
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, expect, it } from "vitest";
import { prepareFiles } from "../../src/prepare/index.js";
import { fourthPart } from "./corpus/folders.js";
import { judge } from "./corpus/judge.js";
import { writeLayout } from "./corpus/layout.js";

interface Measured {
  readonly layout: string;
  readonly columns: number;
  readonly rightUnasked: number;
  readonly asked: number;
  readonly wrong: readonly string[];
}
const unseen: { readonly layouts: readonly Measured[] } = JSON.parse(
  readFileSync("tests/prepare/corpus/fourth/unseen.json", "utf8"),
);

/** Faults of the record that are gone, as "layout: fault"; from then on their layout is a known one. */
const mended: readonly string[] = [
  "eighths-cut: dump.csv, rightcyl: other, not cylinder",
  "eighths-cut: dump.csv, leftcyl: other, not cylinder",
];

const folder = mkdtempSync(join(tmpdir(), "fourth-part-"));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

it("the record holds every layout, and what is called mended was a fault", () => {
  expect(unseen.layouts.map(({ layout }) => layout)).toEqual(fourthPart().map(({ name }) => name));
  const faults = unseen.layouts.flatMap(({ layout, wrong }) =>
    wrong.map((one) => `${layout}: ${one}`),
  );
  expect(mended.filter((one) => !faults.includes(one))).toEqual([]);
});

it("its faults today are those of the first measure without the mended ones", async () => {
  const total = { columns: 0, right: 0, asked: 0, wrong: 0 };
  const first = { columns: 0, right: 0, asked: 0, wrong: 0 };
  const today: string[] = [];
  for (const one of fourthPart()) {
    const paths = await writeLayout(one, join(folder, one.name, "raw"));
    const made = await prepareFiles(paths, undefined, { to: join(folder, one.name, "study") });
    const { columns, right, asked, needless, wrong } = judge(one, made);
    today.push(...wrong.map((fault) => `${one.name}: ${fault}`));
    total.columns += columns;
    total.right += right - (asked - needless.length);
    total.asked += asked;
    total.wrong += wrong.length;
  }
  for (const { columns, rightUnasked, asked, wrong } of unseen.layouts) {
    first.columns += columns;
    first.right += rightUnasked;
    first.asked += asked;
    first.wrong += wrong.length;
  }
  console.info("fourth part, unseen and today:", first, total);
  const left = unseen.layouts.flatMap(({ layout, wrong }) =>
    wrong.map((one) => `${layout}: ${one}`),
  );
  expect(today).toEqual(left.filter((one) => !mended.includes(one)));
}, 120_000);
