import { readFile } from "node:fs/promises";
import { describe, expect, test } from "vitest";
import { defineProtocol } from "../../src/protocol/index.js";
import { runStudy, studyReport } from "../../src/study/index.js";
import { blocksOf } from "../builders/documents.js";

const json = JSON.parse(await readFile("data/children/protocol.json", "utf8"));
const run = (changes: object, errorSd: number | null = 0.25) =>
  runStudy(
    defineProtocol({
      ...json,
      replicates: 60,
      ...changes,
      referenceStandard: { ...json.referenceStandard, ...(errorSd === null ? {} : { errorSd }) },
    }),
    { folder: "data/children" },
  );
const titled = (tables: ReturnType<typeof tablesOf>) =>
  tables.filter(({ title }) => title.startsWith("If the exam errs"));
const tablesOf = (report: ReturnType<typeof studyReport>) => blocksOf(report, "table");

describe("the exam's own error, declared", () => {
  test("stands beside the headline with its interval, in the journal's report", async () => {
    const result = await run({});
    const [condition] = result.conditions;
    const found = condition.referenceError;
    if (found?.kind !== "imperfect-reference") throw new Error("none");
    const { sensitivity, specificity } = condition.accuracy;
    expect(found.observed.sensitivity.value).toBe(sensitivity.value);
    expect(found.observed.specificity.value).toBe(specificity.value);
    expect(found.n).toBe(condition.n);
    expect(found.step).toBe(0.125);
    const [row] = found.rows;
    if (row.sensitivity.kind === "undefined") throw new Error(row.sensitivity.reason);
    // Without the error a test looks better, and nothing is surer than before.
    expect(row.sensitivity.value).toBeGreaterThan(sensitivity.value!);
    expect(row.sensitivity.high - row.sensitivity.low).toBeGreaterThan(0);
    const [table] = titled(tablesOf(studyReport(result)));
    expect(table.rows[1].cells).toEqual([
      "Without its error of SD 0.25 D",
      row.sensitivity,
      row.specificity,
      row.nearLimit,
    ]);
    expect(table.notes.join(" ")).toContain("rounded to 0.125 D");
  });

  test("is absent where none is declared, and out of public reports", async () => {
    const plain = await run({}, null);
    expect(plain.conditions[0]).not.toHaveProperty("referenceError");
    expect(titled(tablesOf(studyReport(plain)))).toEqual([]);
    const open = await run({ audience: "public" });
    expect(titled(tablesOf(studyReport(open)))).toEqual([]);
  });

  test("says why it was not estimated for children as rows", async () => {
    const result = await run({ unit: "child", eye: "worse" });
    expect(result.conditions[0].referenceError).toMatchObject({
      reason: expect.stringContaining("only where eyes are counted"),
    });
    expect(titled(tablesOf(studyReport(result)))[0].rows[0].cells[1]).toMatchObject({
      kind: "undefined",
    });
  });

  test("an error of 0 or of more than 3 D is refused", () => {
    for (const errorSd of [0, 4]) {
      expect(() =>
        defineProtocol({ ...json, referenceStandard: { ...json.referenceStandard, errorSd } }),
      ).toThrow("referenceStandard.errorSd");
    }
  });
});

describe("what the report says of its intervals", () => {
  test("follows from the shape and number of the differences", async () => {
    const report = studyReport(await run({}, null));
    const [table] = tablesOf(report).filter(({ title }) => title.startsWith("Agreement"));
    const said = table.notes.find((note) => note.includes("simulated studies"))!;
    expect(said).toContain("not near normal: skewness 4.7, excess kurtosis 36");
    expect(said).toContain("one eye a child; 538 children");
    expect(said).toMatch(/of limits if normal \d\d to \d\d in 100 \(too seldom\)/);
    expect(said).toMatch(/of percentile limits \d\d to 100 in 100,/);
    expect(said).toMatch(/bent\) \d\d to \d\d in 100/);
  });
});
