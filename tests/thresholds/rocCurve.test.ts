import { readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { areaUnderCurve, rocCurve } from "../../src/thresholds/index.js";
import { wrong } from "../builders/wrong.js";
import { childrenEyes, known } from "./data.js";

interface Reference {
  readonly values: number[];
  readonly condition: number[];
  readonly weights: number[];
  readonly cutOffs: number[];
  readonly falsePositiveRate: number[];
  readonly truePositiveRate: number[];
  readonly area: number;
  readonly weightedArea: number;
  readonly mannWhitneyU: number;
}
const reference: { readonly cases: readonly Reference[] } = JSON.parse(
  readFileSync(new URL("../reference/thresholds/curves.json", import.meta.url), "utf8"),
);

// scikit-learn roc_curve(drop_intermediate=False), roc_auc_score and scipy mannwhitneyu:
// /usr/bin/python3 tests/reference/thresholds/curves.py
describe("rocCurve against scikit-learn and scipy", () => {
  it.each(reference.cases.map((given, at) => [at, given] as const))("tied data %i", (_, given) => {
    const curve = rocCurve(given, { positiveWhen: "high" });
    expect(rocCurve({ ...given, weights: undefined }, { positiveWhen: "high" }).points.length).toBe(
      curve.points.length,
    );
    const { points } = rocCurve(
      { values: given.values, condition: given.condition },
      { positiveWhen: "high" },
    );
    expect(points.slice(1).map((point) => point.cutOff)).toEqual(given.cutOffs);
    points.forEach((point, at) => {
      expect(point.sensitivity).toBeCloseTo(given.truePositiveRate[at], 12);
      expect(1 - point.specificity).toBeCloseTo(given.falsePositiveRate[at], 12);
    });
    const { values, condition, weights } = given;
    const area = known(areaUnderCurve({ values, condition }, { positiveWhen: "high" }));
    expect(area.value).toBeCloseTo(given.area, 12);
    expect(area.value * area.withCondition * area.withoutCondition).toBeCloseTo(
      given.mannWhitneyU,
      8,
    );
    const weighted = known(
      areaUnderCurve({ values, condition, weights }, { positiveWhen: "high" }),
    );
    expect(weighted.value).toBeCloseTo(given.weightedArea, 12);
  });
});

describe("rocCurve", () => {
  // own computation from the source's rows: the 2x2 tables at -3.00 D
  it.each([
    ["screener", [389, 92, 15, 575]],
    ["autoref", [420, 72, 4, 621]],
  ] as const)("children data, %s <= -3.00 D", (instrument, counts) => {
    const { values, condition } = childrenEyes(instrument);
    const { points } = rocCurve({ values, condition }, { positiveWhen: "low" });
    const point = points.filter(({ cutOff }) => cutOff !== null && cutOff <= -3).at(-1)!;
    expect([
      point.truePositive,
      point.falsePositive,
      point.falseNegative,
      point.trueNegative,
    ]).toEqual(counts);
    expect(point.words).toMatch(/^<= -3/);
  });

  it("each point is the decision it names, counted row by row", () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.integer({ min: -6, max: 6 }), fc.boolean()), { minLength: 2 }),
        fc.constantFrom("high" as const, "low" as const),
        (rows, positiveWhen) => {
          fc.pre(rows.some(([, c]) => c) && rows.some(([, c]) => !c));
          const values = Object.freeze(rows.map(([value]) => value * 0.25));
          const condition = Object.freeze(rows.map(([, c]) => c));
          const curve = rocCurve({ values, condition }, { positiveWhen });
          expect(curve.points.length).toBe(new Set(values.map((value) => value + 0)).size + 1);
          for (const point of curve.points) {
            const refer = (value: number) =>
              point.cutOff !== null &&
              (positiveWhen === "high" ? value >= point.cutOff : value <= point.cutOff);
            const count = (wanted: boolean, referred: boolean) =>
              rows.filter(([value, c]) => c === wanted && refer(value * 0.25) === referred).length;
            expect(point).toMatchObject({
              truePositive: count(true, true),
              falsePositive: count(false, true),
              falseNegative: count(true, false),
              trueNegative: count(false, false),
            });
          }
        },
      ),
    );
  });

  it("sensitivity never falls, and specificity never rises, as the cut-off loosens", () => {
    const { values, condition } = childrenEyes("screener");
    const { points } = rocCurve({ values, condition }, { positiveWhen: "low" });
    for (let at = 1; at < points.length; at++) {
      expect(points[at].sensitivity).toBeGreaterThanOrEqual(points[at - 1].sensitivity);
      expect(points[at].specificity).toBeLessThanOrEqual(points[at - 1].specificity);
    }
    expect(points[0]).toMatchObject({ cutOff: null, words: "nobody", sensitivity: 0 });
    expect(points.at(-1)).toMatchObject({ sensitivity: 1, specificity: 0 });
  });

  it("takes -0 and 0 for one value, and survives saving", () => {
    const curve = rocCurve({ values: [-0, 0, 1], condition: [0, 1, 1] }, { positiveWhen: "low" });
    expect(curve.points.map((point) => point.words)).toEqual(["nobody", "<= 0", "<= 1"]);
    expect(JSON.parse(JSON.stringify(curve))).toEqual(curve);
  });

  it.each([
    [{ values: [1, 2], condition: [1, 1] }, "rows with and rows without the condition, got 2 with"],
    [
      { values: [1, Number.POSITIVE_INFINITY], condition: [1, 0] },
      "finite numbers in values, got Infinity",
    ],
    [{ values: [1, 2], condition: [1, wrong(null)] }, "neither with nor without"],
    [{ values: [1, 2], condition: [1, 0], weights: [1, -1] }, "weights of 0 or more, got -1"],
  ])("%j is an error", (data, message) => {
    expect(() => rocCurve(data, { positiveWhen: "high" })).toThrow(message);
  });
});
