// What the referral does to 1000: the journal's exact numbers, the public's ranges.
import { mkdtemp, readFile, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { CoarseRate } from "../../src/disclosure/index.js";
import { defineProtocol } from "../../src/protocol/index.js";
import type { TableModel } from "../../src/results/index.js";
import { coarseStudy } from "../../src/study/coarse/coarseStudy.js";
import { runStudy, type StudyResult, studyReport } from "../../src/study/index.js";
import { exactOutcomes } from "../../src/study/report/outcomes.js";
import { coarseResult, type InventedChild } from "../builders/coarseResult.js";
import { demoPart } from "../builders/demoPart.js";

let folder: string;
let demo: StudyResult;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "meridional-outcomes-"));
  await demoPart(folder);
  const json = JSON.parse(await readFile("data/demo/protocol.json", "utf8"));
  demo = await runStudy(defineProtocol({ ...json, replicates: 60 }), { folder });
}, 120_000);
afterAll(() => rm(folder, { recursive: true, force: true }));

const journal = (result: StudyResult): StudyResult => ({
  ...result,
  protocol: { ...result.protocol, audience: "journal" },
});
const outcomesTableOf = (result: StudyResult) =>
  studyReport(result)
    .sections[0]!.blocks.filter((block): block is TableModel => block.kind === "table")
    .find(({ title }) => title.startsWith("Of 1000, what the referral does"))!;

const children = (missed: number): InventedChild[] =>
  [
    ...Array.from({ length: 60 }, () => ({ value: 3, exam: 3 })),
    ...Array.from({ length: 40 }, () => ({ value: 3, exam: 0 })),
    ...Array.from({ length: missed }, () => ({ value: 0, exam: 3 })),
    ...Array.from({ length: 300 }, () => ({ value: 0, exam: 0 })),
  ].map((one) => ({ ...one, end: "compared", band: 0, site: "site 0" }));

describe("of 1000 screened", () => {
  it("the public's ranges hold the journal's numbers, and what is printed adds up", () => {
    const coarse = coarseStudy(demo).conditions[0]!.counts!.rates;
    const { outcomes, verification } = demo.conditions[0]!;
    for (const name of [
      "referred",
      "found",
      "wronglyReferred",
      "missed",
      "rightlyPassed",
    ] as const) {
      const exact = outcomes![name];
      const range = coarse[name] as CoarseRate;
      if (exact.kind !== "estimate") continue;
      expect(range.from, name).toBeLessThanOrEqual(exact.value + 1e-12);
      expect(range.to, name).toBeGreaterThanOrEqual(exact.value - 1e-12);
    }
    expect(verification).not.toBeNull();
    const { thousands } = exactOutcomes(demo.conditions[0]!, journal(demo))!;
    expect(thousands.map(({ of }) => of)).toEqual(["1000 children screened"]);
  });

  it("the public's numbers are the same whatever the small count behind them is", () => {
    const conditions = [{ refer: 2, target: 2 }];
    const tables = [0, 3, 10].map((missed) =>
      outcomesTableOf(coarseResult(children(missed), conditions)),
    );
    expect(tables[1]).toEqual(tables[0]);
    expect(tables[2]).toEqual(tables[0]);
    // 60, 40, 0 to 10 and 300 of all, each to the nearest 5 (within 2)
    const cells = Object.fromEntries(tables[0]!.rows.map(({ cells }) => [cells[0], cells[1]]));
    expect(cells["Passed, with the condition (missed)"]).toMatch(/^0 to \d+ \(0 to \d+\)$/);
    // and another count is another number
    expect(outcomesTableOf(coarseResult(children(40), conditions))).not.toEqual(tables[0]);
  });

  it("of an enriched sample there are a thousand of each side, from sensitivity and specificity", async () => {
    const json = JSON.parse(await readFile("data/children/protocol.json", "utf8"));
    const study = await runStudy(defineProtocol({ ...json, replicates: 60 }), {
      folder: "data/children",
    });
    const condition = study.conditions[0]!;
    expect(condition.outcomes).toBeUndefined();
    // 204 of 214 with the condition were referred, 283 of 324 without it passed
    const table = outcomesTableOf(study);
    const values = table.rows.map(({ cells }) => (cells[1] as { value?: number } | null)?.value);
    expect(values[1]).toBeCloseTo((1000 * 204) / 214, 9);
    expect(values[2]).toBeCloseTo((1000 * 10) / 214, 9);
    expect(values[4]).toBeCloseTo((1000 * 41) / 324, 9);
    expect(values[5]).toBeCloseTo((1000 * 283) / 324, 9);
  });
});
