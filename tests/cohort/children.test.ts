import { readFile } from "node:fs/promises";
import { beforeAll, describe, expect, test } from "vitest";
import {
  type Cohort,
  childValues,
  eyePairs,
  type Findings,
  linkCohort,
  problemsByRule,
  type Readings,
  readFindings,
  readReadings,
} from "../../src/cohort/index.js";

// Counts in this file: computed from the file itself with pandas, and the statistics page's own
// section on these data (n 1072, 1118: also printed in the source's published panels).
const file = "data/children/children.csv";
let readings: Readings;
let findings: Findings;
const cohort: Record<string, Cohort> = {};

beforeAll(async () => {
  const columns = JSON.parse(await readFile("data/children/columns.json", "utf8"));
  readings = await readReadings(file, { columns });
  findings = await readFindings(file, { columns });
  for (const instrument of ["handheld", "table"]) {
    cohort[instrument] = linkCohort({ readings, findings, instrument, cycloplegia: "none" });
  }
});

describe("the children data, every eye accounted for", () => {
  test("574 children, 1129 eyes", () => {
    expect(findings.n).toBe(1129);
    expect(readings.n).toBe(4 * 1129);
    expect(cohort.handheld.children.n).toBe(574);
    const [all] = cohort.handheld.flow.boxes;
    expect(all).toMatchObject({ children: 574, eyes: 1129 });
  });

  test.each([
    ["handheld", "computed", 1071],
    ["handheld", "stated", 1072],
    ["table", "computed", 1117],
    ["table", "stated", 1118],
  ] as const)("%s, %s equivalent: %i eyes", (instrument, referenceEquivalent, n) => {
    const pairs = eyePairs(cohort[instrument], { eyes: "both", referenceEquivalent });
    expect(pairs.n).toBe(n);
    const lost = pairs.excluded.reduce((sum, { eyes }) => sum + eyes, 0);
    expect(n + lost).toBe(1129);
    const children = pairs.excluded.reduce((sum, entry) => sum + entry.children, 0);
    expect(pairs.children + children).toBe(574);
  });

  test.each([
    ["handheld", 538, 527],
    ["table", 561, 549],
  ])("%s: %i right eyes, %i children with both eyes complete", (instrument, right, both) => {
    expect(eyePairs(cohort[instrument], { eyes: "right" }).n).toBe(right);
    const values = childValues(cohort[instrument], { eye: "worse", worseWhen: "low" });
    expect(values.n).toBe(both);
    const without = values.excluded.reduce((sum, { children }) => sum + children, 0);
    expect(values.n + values.oneEyeOnly + without).toBe(574);
  });

  test("worse eye at -3.00 D: the two-by-two counts by child", () => {
    const counts = Object.entries(cohort).map(([, linked]) => {
      const { test, reference } = childValues(linked, { eye: "worse", worseWhen: "low" });
      const table = [0, 0, 0, 0];
      test.forEach((value, row) => {
        table[(value <= -3 ? 0 : 2) + (reference[row] <= -3 === value <= -3 ? 0 : 1)]++;
      });
      // true positive, false positive, true negative, false negative
      return table;
    });
    expect(counts).toEqual([
      [230, 52, 240, 5],
      [246, 37, 265, 1],
    ]);
  });

  test("mean difference of all eyes with the stated equivalent, test minus reference", () => {
    const bias = (instrument: string) => {
      const { test, reference, n } = eyePairs(cohort[instrument], {
        eyes: "both",
        referenceEquivalent: "stated",
      });
      return test.reduce((sum, value, row) => sum + value - reference[row], 0) / n;
    };
    // mirror of the published panels: +0.26 and +0.38, reference minus device
    expect(bias("handheld")).toBeCloseTo(-0.2563, 4);
    expect(bias("table")).toBeCloseTo(-0.3757, 4);
  });
});

describe("each known fault is listed and none repaired", () => {
  const rules = (problems: Readings["problems"]) =>
    Object.fromEntries(problemsByRule(problems).rules.map(({ rule, count }) => [rule, count]));

  test("findings: stated equivalents, plus cylinders among minus ones", () => {
    const counts = rules(findings.problems);
    expect(counts["stated-equivalent"]).toBe(7);
    expect(counts["stated-equivalent-alone"]).toBe(1);
    expect(counts["mixed-cylinder-sign"]).toBe(32);
    const flagged = findings.problems.filter(({ rule }) => rule === "stated-equivalent");
    for (const { row, value, action } of flagged) {
      expect(action).toBe("kept");
      expect(findings.statedEquivalent?.[findings.line.indexOf(row ?? 0)]).toBe(Number(value));
    }
  });

  test("readings: axes of 1175 and -174 set aside, M usable, J0 and J45 missing", () => {
    const axes = readings.problems.filter(({ rule }) => rule === "axis-range");
    expect(axes.map(({ value }) => Number(value)).sort()).toEqual([-174, 1175]);
    expect(axes.every(({ action }) => action === "set-aside")).toBe(true);
    const full = linkCohort({ readings, findings, instrument: "table", cycloplegia: "full" });
    const m = eyePairs(full, { eyes: "both", quantity: "M" }).n;
    expect(eyePairs(full, { eyes: "both", quantity: "J0" }).n).toBe(m - 2);
    expect(eyePairs(full, { eyes: "both", quantity: "J45" }).n).toBe(m - 2);
  });

  test("readings: plus cylinders by block, and the handheld instrument's ends", () => {
    const plus = readings.problems.filter(({ rule }) => rule === "mixed-cylinder-sign");
    const counts: Record<string, number> = {};
    for (const { column } of plus) counts[column ?? ""] = (counts[column ?? ""] ?? 0) + 1;
    expect(counts).toEqual({
      screener_pre_cyl: 10,
      screener_post_cyl: 8,
      autoref_pre_cyl: 24,
      autoref_post_cyl: 37,
    });
    // nine before dilation (seven at -7.5, two at +7.5), one after
    const ends = readings.problems.filter(({ rule }) => rule === "suspected-range-end");
    expect(ends.map(({ value }) => Math.abs(Number(value)))).toEqual(new Array(10).fill(7.5));
    expect(ends.every(({ action }) => action === "kept")).toBe(true);
  });
});

describe("the flow adds up", () => {
  test("the parts of every box add up to it, by eye and by child", () => {
    for (const { flow } of Object.values(cohort)) {
      for (const box of flow.boxes) {
        const parts = flow.boxes.filter(({ partOf }) => partOf === box.id);
        if (parts.length === 0) continue;
        expect(parts.reduce((sum, { eyes }) => sum + eyes, 0)).toBe(box.eyes);
        expect(parts.reduce((sum, { children }) => sum + children, 0)).toBe(box.children);
      }
    }
  });

  test("pairs are the last box", () => {
    expect(cohort.handheld.flow.boxes.at(-1)).toMatchObject({ id: "paired", eyes: 1071 });
  });
});
