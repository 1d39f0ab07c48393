import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import {
  accuracyByGroup,
  accuracyFromCounts,
  clusteredAccuracy,
  inconclusiveVariants,
  standardiseAccuracy,
  unreadableBounds,
  unreadableVariants,
} from "../../src/accuracy/index.js";
import { known } from "../known.js";

const reference = JSON.parse(
  readFileSync(new URL("../reference/accuracy/comparisons.json", import.meta.url), "utf8"),
) as { groups: [[number, number][], number, number, number][] };

describe("accuracyByGroup", () => {
  it("homogeneity by scipy's chi-square of the same tables", () => {
    for (const [pairs, chiSquare, df, p] of reference.groups) {
      const rows = pairs.flatMap(([x, n], group) =>
        Array.from({ length: n }, (_, i) => ({ group: `g${group}`, test: Number(i < x) })),
      );
      const { homogeneity, groups, n } = accuracyByGroup({
        test: rows.map(({ test }) => test),
        reference: rows.map(() => 1),
        by: rows.map(({ group }) => group),
      });
      if (homogeneity.sensitivity.kind === "undefined") throw new Error();
      expect(homogeneity.sensitivity.method).toBe("pearson");
      expect(homogeneity.sensitivity.chiSquare).toBeCloseTo(chiSquare, 9);
      expect(homogeneity.sensitivity.df).toBe(df);
      expect(homogeneity.sensitivity.p).toBeCloseTo(p, 9);
      expect(n).toBe(rows.length);
      expect(groups.map(({ accuracy }) => accuracy.n)).toEqual(pairs.map(([, n]) => n));
    }
  });

  it("one group, or groups all right, have no test", () => {
    const alone = accuracyByGroup({ test: [1, 0], reference: [1, 1], by: ["a", "a"] });
    expect(alone.homogeneity.sensitivity.kind).toBe("undefined");
    const right = accuracyByGroup({ test: [1, 1], reference: [1, 1], by: ["a", "b"] });
    expect(right.homogeneity.sensitivity).toEqual({
      kind: "undefined",
      reason: "every group has a share of 1",
    });
  });
});

describe("standardiseAccuracy", () => {
  const young = { truePositive: 8, falsePositive: 10, falseNegative: 2, trueNegative: 90 };
  const old = { truePositive: 18, falsePositive: 5, falseNegative: 2, trueNegative: 95 };

  it("weights of the sample give back the pooled rate", () => {
    const result = standardiseAccuracy([
      { group: "young", table: young, withCondition: 10, withoutCondition: 100 },
      { group: "old", table: old, withCondition: 20, withoutCondition: 100 },
    ]);
    expect(known(result.sensitivity).value).toBeCloseTo(26 / 30, 12);
    expect(known(result.specificity).value).toBeCloseTo(185 / 200, 12);
  });

  it("all weight on one group gives its own interval", () => {
    const { sensitivity } = standardiseAccuracy([
      { group: "young", table: young, withCondition: 1, withoutCondition: 1 },
      { group: "old", table: old, withCondition: 0, withoutCondition: 0 },
    ]);
    const plain = known(accuracyFromCounts(young).sensitivity);
    expect(known(sensitivity).low).toBeCloseTo(plain.low, 12);
    expect(known(sensitivity).high).toBeCloseTo(plain.high, 12);
  });

  it("refuses negative weights; a weighted group without rows is undefined", () => {
    const empty = { ...young, truePositive: 0, falseNegative: 0 };
    const groups = [{ group: "young", table: empty, withCondition: 1, withoutCondition: 1 }];
    expect(standardiseAccuracy(groups).sensitivity).toEqual({
      kind: "undefined",
      reason: "group young has a weight and no row",
    });
    expect(() => standardiseAccuracy([{ ...groups[0], withCondition: -1 }])).toThrow(
      /weights withCondition/,
    );
  });
});

// 10 with the condition (2 unreadable), 20 without (3 unreadable): invented
const columns = {
  test: [
    ...Array<string>(6).fill("refer"),
    ...Array<string>(2).fill("pass"),
    ...Array<string>(2).fill("undecidable"),
    ...Array<string>(4).fill("refer"),
    ...Array<string>(13).fill("pass"),
    ...Array<string>(3).fill("undecidable"),
  ],
  reference: [...Array<boolean>(10).fill(true), ...Array<boolean>(20).fill(false)],
};

describe("unreadable children", () => {
  it("three ways side by side", () => {
    const { variants, unreadable, n } = unreadableVariants(columns);
    expect([n, unreadable]).toEqual([30, { withCondition: 2, withoutCondition: 3 }]);
    const rates = variants.map(({ policy, accuracy }) => [
      policy,
      known(accuracy.sensitivity).value,
      known(accuracy.specificity).value,
    ]);
    expect(rates).toEqual([
      ["refer", 8 / 10, 13 / 20],
      ["pass", 6 / 10, 16 / 20],
      ["exclude", 6 / 8, 13 / 17],
    ]);
  });

  it("only the pre-specified one where there is one", () => {
    const result = unreadableVariants(columns, { preSpecified: "refer", level: 0.9 });
    expect(result.variants.map(({ policy }) => policy)).toEqual(["refer"]);
    expect(result.preSpecified).toBe("refer");
    expect(result.variants[0].accuracy.level).toBe(0.9);
  });

  it("with subjects the intervals follow the children", () => {
    const subjects = columns.test.map((_, row) => Math.floor(row / 2));
    const { variants } = unreadableVariants({ ...columns, subjects });
    for (const { policy, accuracy } of variants) {
      expect(accuracy).toEqual(
        clusteredAccuracy({ ...columns, subjects }, { undecidable: policy }),
      );
      expect(accuracy.kind).toBe("clustered-accuracy");
    }
  });

  it("refuses a method of independent rows where subjects repeat", () => {
    const subjects = columns.test.map((_, row) => Math.floor(row / 2));
    expect(() => unreadableVariants({ ...columns, subjects }, { interval: "jeffreys" })).toThrow(
      'requires rows of different children for interval "jeffreys", got subjects that repeat',
    );
    expect(() =>
      clusteredAccuracy({ ...columns, subjects }, { ratioInterval: "log", undecidable: "pass" }),
    ).toThrow('ratioInterval "log"');
    const single = columns.test.map((_, row) => row);
    const { variants } = unreadableVariants({ ...columns, subjects: single }, { interval: "wald" });
    for (const { accuracy } of variants) expect(accuracy.method).toBe("wald");
  });

  it("worst and best case: opposite fillings, beyond any single policy", () => {
    const result = unreadableBounds(columns);
    expect(result.sensitivity).toEqual({ kind: "bounds", low: 6 / 10, high: 8 / 10 });
    expect(result.specificity).toEqual({ kind: "bounds", low: 13 / 20, high: 16 / 20 });
    expect(result.positivePredictiveValue).toEqual({ kind: "bounds", low: 6 / 13, high: 8 / 12 });
    expect(result.negativePredictiveValue).toEqual({ kind: "bounds", low: 13 / 17, high: 16 / 18 });
    // every way to decide each unreadable child, tried out
    for (let diseased = 0; diseased <= 2; diseased++) {
      for (let healthy = 0; healthy <= 3; healthy++) {
        const positive = (6 + diseased) / (10 + diseased + healthy);
        expect(positive).toBeGreaterThanOrEqual(6 / 13 - 1e-12);
        expect(positive).toBeLessThanOrEqual(8 / 12 + 1e-12);
      }
    }
  });
});

describe("inconclusiveVariants", () => {
  const data = {
    test: [1, 1, 1, 0, 0, 0, 0, 1, 0, 0],
    reference: [1, 1, 0, 0, 0, 0, 1, "inconclusive", "inconclusive", "inconclusive"],
  };

  it("a 2x3 table counted in every way", () => {
    const result = inconclusiveVariants(data);
    expect(result.inconclusive).toEqual({ testPositive: 1, testNegative: 2 });
    expect(result.variants.map(({ policy, accuracy }) => [policy, accuracy.table])).toEqual([
      ["with-condition", { truePositive: 3, falsePositive: 1, falseNegative: 3, trueNegative: 3 }],
      [
        "without-condition",
        { truePositive: 2, falsePositive: 2, falseNegative: 1, trueNegative: 5 },
      ],
      ["exclude", { truePositive: 2, falsePositive: 1, falseNegative: 1, trueNegative: 3 }],
    ]);
  });

  it("bounds over every filling, tried out", () => {
    const result = inconclusiveVariants(data);
    const tries: number[][] = [];
    for (let positive = 0; positive <= 1; positive++) {
      for (let negative = 0; negative <= 2; negative++) {
        const table = {
          tp: 2 + positive,
          fp: 1 + 1 - positive,
          fn: 1 + negative,
          tn: 3 + 2 - negative,
        };
        tries.push([table.tp / (table.tp + table.fn), table.tn / (table.tn + table.fp)]);
      }
    }
    const range = (i: number) => ({
      kind: "bounds",
      low: Math.min(...tries.map((row) => row[i])),
      high: Math.max(...tries.map((row) => row[i])),
    });
    expect(result.sensitivity).toEqual(range(0));
    expect(result.specificity).toEqual(range(1));
  });

  it("with subjects, inconclusive rows left out", () => {
    const subjects = data.test.map((_, row) => Math.floor(row / 2));
    const { variants } = inconclusiveVariants({ ...data, subjects }, { preSpecified: "exclude" });
    const kept = { test: data.test.slice(0, 7), reference: data.reference.slice(0, 7) };
    expect(variants[0].accuracy).toEqual(
      clusteredAccuracy({ ...kept, subjects: subjects.slice(0, 7) }),
    );
  });

  it("pre-specified, and with an undecidable test", () => {
    const one = inconclusiveVariants(data, { preSpecified: "exclude" });
    expect(one.variants).toHaveLength(1);
    const unreadable = { ...data, test: ["undecidable", ...data.test.slice(1)] };
    expect(() => inconclusiveVariants(unreadable)).toThrow(/undecidable/);
    const excluded = inconclusiveVariants(unreadable, { undecidable: "exclude" });
    expect(excluded.variants[2].accuracy.n).toBe(6);
  });
});
