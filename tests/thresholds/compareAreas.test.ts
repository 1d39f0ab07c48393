import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  areaUnderCurve,
  compareAreas,
  compareIndependentAreas,
  compareSeveralAreas,
} from "../../src/thresholds/index.js";
import { childrenEyes, known, readColumns } from "./data.js";

// DeLong 1988, the 43 complete records; 2.5340 and p .2817 from memory, the rest recomputed by two
// implementations
describe("DeLong 1988: three correlated areas", () => {
  const column = readColumns("data/classics/ovarian_1988.csv");
  const numbers = (name: string) => column(name).map(Number);
  const condition = numbers("condition");
  it.each([
    ["albumin", 0.010752688172043, 0.0953436177300938, 0.0127189379686796, 0.910206347201035],
    ["total_protein", -0.0779569892473119, 0.104609588718133, 0.555350448284453, 0.456139707507473],
  ])("%s against K-G", (name, difference, se, chiSquare, p) => {
    const found = compareAreas(
      { first: numbers(name), second: numbers("kg_score"), condition },
      { positiveWhen: ["high", "low"] },
    );
    expect(known(found.difference).value).toBeCloseTo(difference, 12);
    expect(known(found.difference).se).toBeCloseTo(se, 12);
    expect(found.z! ** 2).toBeCloseTo(chiSquare, 10);
    expect(found.p).toBeCloseTo(p, 9);
    expect(found).toMatchObject({ n: 43, design: "paired", method: "delong" });
  });

  it("jointly: chi-square 2.5340 on 2 degrees of freedom", () => {
    const found = compareSeveralAreas(
      {
        values: {
          kg: numbers("kg_score"),
          albumin: numbers("albumin"),
          protein: numbers("total_protein"),
        },
        condition,
      },
      { positiveWhen: { kg: "low", albumin: "high", protein: "high" } },
    );
    expect(found.chiSquare).toBeCloseTo(2.53397792621414, 10);
    expect(found.df).toBe(2);
    expect(found.p).toBeCloseTo(0.281678490488887, 9);
    expect(found.covariance[0][1]).toBeCloseTo(0.00503705981073307, 12);
    expect(found.covariance[1][2]).toBeCloseTo(0.00774452927646216, 12);
  });
});

// Wieand and others, Biometrika 1989;76:585-592: areas .86 and .71 from memory; the rest by
// Rscript tests/reference/thresholds/areas.R
describe("Wieand 1989: two markers of pancreatic cancer", () => {
  const column = readColumns("tests/reference/thresholds/wieand_pancreas.csv");
  const valuesA = column("CA19_9").map(Number);
  const valuesB = column("CA125").map(Number);
  const condition = column("cancer").map(Number);
  const options = { positiveWhen: "high" } as const;
  it("paired", () => {
    const found = compareAreas({ first: valuesA, second: valuesB, condition }, options);
    expect(found.first).toBeCloseTo(0.861437908496732, 12);
    expect(found.second).toBeCloseTo(0.705555555555556, 12);
    expect(known(found.difference).se).toBeCloseTo(0.0572662209372719, 12);
    expect(found.z).toBeCloseTo(2.72206460265514, 10);
    expect(found.p).toBeCloseTo(0.00648754587442969, 10);
  });
  it("clustered: consecutive rows as artificial pairs", () => {
    const subjects = condition.map((_, row) => Math.floor(row / 2));
    const found = compareAreas({ first: valuesA, second: valuesB, condition, subjects }, options);
    expect(found.method).toBe("obuchowski");
    expect(known(found.difference).se).toBeCloseTo(0.065093139774, 11);
    const area = known(areaUnderCurve({ values: valuesA, condition, subjects }, options));
    expect(area.se).toBeCloseTo(0.0336847931134454, 12);
  });
  it("as if of different people: the variances add", () => {
    const found = compareIndependentAreas(
      { first: { values: valuesA, condition }, second: { values: valuesB, condition } },
      options,
    );
    expect(known(found.difference).se).toBeCloseTo(0.055933833905, 12);
    expect(found.design).toBe("unpaired");
  });
});

describe("compareAreas: laws and ends", () => {
  const tests = fc
    .array(
      fc.record({
        a: fc.integer({ min: 0, max: 6 }),
        b: fc.integer({ min: 0, max: 6 }),
        with: fc.boolean(),
      }),
      {
        minLength: 8,
        maxLength: 40,
      },
    )
    .filter((rows) => {
      const cases = rows.filter((row) => row.with).length;
      return cases > 1 && cases < rows.length - 1;
    });
  it("swapping the tests mirrors difference, limits and z; a copy has no variance", () => {
    fc.assert(
      fc.property(tests, (rows) => {
        const valuesA = rows.map((row) => row.a);
        const valuesB = rows.map((row) => row.b);
        const condition = rows.map((row) => row.with);
        const one = compareAreas(
          { first: valuesA, second: valuesB, condition },
          { positiveWhen: "high" },
        );
        const two = compareAreas(
          { first: valuesB, second: valuesA, condition },
          { positiveWhen: "high" },
        );
        expect(two.first - two.second).toBeCloseTo(one.second - one.first, 12);
        expect(two.z ?? 0).toBeCloseTo(-(one.z ?? 0), 8);
        const copy = compareAreas(
          { first: valuesA, second: valuesA, condition },
          { positiveWhen: "high" },
        );
        expect(copy.difference.kind).toBe("undefined");
        const pair = compareSeveralAreas(
          { values: { valuesA, valuesB, copy: valuesB }, condition },
          { positiveWhen: "high" },
        );
        if (one.z !== null) {
          expect(pair.chiSquare).toBeCloseTo(one.z ** 2, 6);
          expect(pair.df).toBe(1);
        }
      }),
    );
  });

  it("children data: the two instruments on eyes that both read, clustered", () => {
    const screener = childrenEyes("screener");
    const autoref = childrenEyes("autoref");
    const key = (rows: typeof screener, at: number) => `${rows.subjects[at]} ${rows.eyes[at]}`;
    const place = new Map(autoref.values.map((_, at) => [key(autoref, at), at]));
    const both = screener.values.map((_, at) => at).filter((at) => place.has(key(screener, at)));
    const found = compareAreas(
      {
        first: both.map((at) => screener.values[at]),
        second: both.map((at) => autoref.values[place.get(key(screener, at))!]),
        condition: both.map((at) => screener.condition[at]),
        subjects: both.map((at) => screener.subjects[at]),
      },
      { positiveWhen: "low" },
    );
    expect(known(found.difference).high).toBeLessThan(0);
    expect(found.correlation).toBeGreaterThan(0);
  });

  it.each([
    [
      () =>
        compareAreas({ first: [1, 2], second: [1], condition: [0, 1] }, { positiveWhen: "high" }),
      "columns of one length, got 1 second",
    ],
    [
      () =>
        compareAreas(
          { first: [1, 2], second: [1, 2], condition: [1, 1] },
          { positiveWhen: "high" },
        ),
      "rows with and rows without",
    ],
    [
      () =>
        compareSeveralAreas({ values: { a: [1, 2] }, condition: [0, 1] }, { positiveWhen: "high" }),
      "at least 2 tests",
    ],
    [
      () =>
        compareIndependentAreas(
          {
            first: { values: [1, 2, 3, 4], condition: [0, 0, 1, 1], subjects: [1, 2, 3, 4] },
            second: { values: [1, 2, 3, 4], condition: [0, 0, 1, 1], subjects: [4, 5, 6, 7] },
          },
          { positiveWhen: "high" },
        ),
      "different children in the two groups, got 1 in both",
    ],
  ])("fault %#", (run, message) => {
    expect(run).toThrow(message);
  });
});
