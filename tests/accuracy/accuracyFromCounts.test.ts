import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { accuracyFromCounts } from "../../src/accuracy/index.js";
import type { Estimate, TwoByTwo, Undefined } from "../../src/results/index.js";
import { known } from "../known.js";

const table = (
  truePositive: number,
  falsePositive: number,
  falseNegative: number,
  trueNegative: number,
): TwoByTwo => ({ truePositive, falsePositive, falseNegative, trueNegative });

const rounded = (estimate: Estimate | Undefined, digits: number) => {
  const { value, low, high } = known(estimate);
  return [value, low, high].map((number) => Number(number.toFixed(digits)));
};

describe("accuracyFromCounts", () => {
  // Scott IA, Greenberg PB, Poole PJ, Intern Med J 2008;38:120-129, Table 1 (seen)
  it("Scott 2008: exact limits, log interval of the likelihood ratio", () => {
    const result = accuracyFromCounts(table(670, 202, 74, 640), {
      interval: "clopper-pearson",
      ratioInterval: "log",
    });
    expect(rounded(result.sensitivity, 2)).toEqual([0.9, 0.88, 0.92]);
    expect(rounded(result.specificity, 2)).toEqual([0.76, 0.73, 0.79]);
    expect(rounded(result.positiveLikelihoodRatio, 2)).toEqual([3.75, 3.32, 4.24]);
    // computed in R 4.2.2 from the same formulas, not printed in the paper
    expect(rounded(result.negativeLikelihoodRatio, 6)).toEqual([0.130855, 0.105064, 0.162977]);
    expect(rounded(result.diagnosticOddsRatio, 4)).toEqual([28.6861, 21.5182, 38.2417]);
  });

  // Altman DG, Bland JM, BMJ 1994;308:1552 and 309:102: values from memory
  it("Altman and Bland 1994: liver scan", () => {
    const result = accuracyFromCounts(table(231, 32, 27, 54));
    const values = [
      result.sensitivity,
      result.specificity,
      result.positivePredictiveValue,
      result.negativePredictiveValue,
      result.prevalence,
    ].map((estimate) => Number(known(estimate).value.toFixed(2)));
    expect(values).toEqual([0.9, 0.63, 0.88, 0.67, 0.75]);
  });

  // the children of data/children (own computation from the source's rows), Wilson limits
  it.each([
    ["screener, eyes", table(389, 92, 15, 575), [0.9629, 0.9397, 0.9774], [0.8621, 0.8338, 0.8862]],
    [
      "autorefractor, eyes",
      table(420, 72, 4, 621),
      [0.9906, 0.976, 0.9963],
      [0.8961, 0.8712, 0.9167],
    ],
  ] as const)("children data at -3.00 D: %s", (_name, counts, sensitivity, specificity) => {
    const result = accuracyFromCounts(counts);
    expect(rounded(result.sensitivity, 4)).toEqual(sensitivity);
    expect(rounded(result.specificity, 4)).toEqual(specificity);
  });

  // tests/reference/accuracy/ratios.R (base R 4.2.2, by numerical likelihood)
  it.each([
    [
      table(670, 202, 74, 640),
      [3.75372618, 3.32817208, 4.25141446],
      [28.6861119, 21.527652, 38.2231202],
    ],
    [
      table(389, 92, 15, 575),
      [6.98081683, 5.78801598, 8.4665789],
      [162.0833333, 92.9998049, 282.2694828],
    ],
    [table(7, 1, 27, 33), [7, 1.22085286, 42.57571753], [8.55555556, 1.2612876, 55.84828323]],
    [table(0, 4, 20, 11), [0, 0, 0.651503154], [0, 0, 0.599482349]],
  ])("score intervals of ratio and odds ratio by R", (counts, ratio, odds) => {
    const result = accuracyFromCounts(counts);
    const relative = (estimate: Estimate | Undefined, expected: number[]) => {
      const { value, low, high } = known(estimate);
      for (const [i, number] of [value, low, high].entries()) {
        // R's uniroot and optimize stop near 1e-7
        expect(Math.abs(number - expected[i])).toBeLessThan(2e-6 * Math.max(1, expected[i]));
      }
    };
    relative(result.positiveLikelihoodRatio, ratio);
    relative(result.diagnosticOddsRatio, odds);
  });

  it("zero cells: an infinite ratio keeps its lower limit (R, as above)", () => {
    const noMiss = accuracyFromCounts(table(12, 3, 0, 37));
    expect(rounded(noMiss.positiveLikelihoodRatio, 5)).toEqual([13.33333, 5.03417, 38.70564]);
    expect(noMiss.diagnosticOddsRatio.kind).toBe("undefined");
    expect(noMiss.diagnosticOddsRatio.low).toBeCloseTo(29.0435066, 5);
    expect(known(noMiss.negativeLikelihoodRatio).value).toBe(0);
    const noFalse = accuracyFromCounts(table(9, 0, 11, 15));
    expect(noFalse.positiveLikelihoodRatio).toMatchObject({
      kind: "undefined",
      reason: "infinite: the denominator is 0",
    });
    expect(noFalse.positiveLikelihoodRatio.low).toBeCloseTo(2.10971513, 6);
    expect(rounded(accuracyFromCounts(table(20, 15, 0, 0)).positiveLikelihoodRatio, 6)).toEqual([
      1, 0.838875, 1.256097,
    ]);
  });

  it("nothing is NaN, each interval holds its value, whatever the counts", () => {
    const cell = fc.integer({ min: 0, max: 60 });
    const design = fc.record({
      sampling: fc.constantFrom("cohort" as const, "enriched" as const),
      verification: fc.constantFrom("complete" as const, "partial" as const),
      ratioInterval: fc.constantFrom("score" as const, "log" as const),
      prevalence: fc.option(fc.constantFrom(0.01, 0.3), { nil: undefined }),
    });
    fc.assert(
      fc.property(cell, cell, cell, cell, design, (tp, fp, fn, tn, options) => {
        const result = accuracyFromCounts(table(tp, fp, fn, tn), options);
        expect(JSON.stringify(result)).not.toMatch(/NaN/);
        for (const part of Object.values(result)) {
          if (typeof part !== "object" || part === null || !("kind" in part)) continue;
          const estimate = part as Estimate | Undefined;
          if (estimate.kind === "undefined") {
            expect(estimate.reason.length).toBeGreaterThan(5);
            continue;
          }
          expect(estimate.low).toBeLessThanOrEqual(estimate.value + 1e-9);
          expect(estimate.high).toBeGreaterThanOrEqual(estimate.value - 1e-9);
          expect(Number.isFinite(estimate.high)).toBe(true);
        }
      }),
    );
  });

  it("swapping the sides of the condition and the test swaps the measures", () => {
    const cell = fc.integer({ min: 1, max: 60 });
    fc.assert(
      fc.property(cell, cell, cell, cell, (tp, fp, fn, tn) => {
        const one = accuracyFromCounts(table(tp, fp, fn, tn));
        const other = accuracyFromCounts(table(tn, fn, fp, tp));
        expect(other.sensitivity).toEqual(one.specificity);
        expect(other.positivePredictiveValue).toEqual(one.negativePredictiveValue);
        expect(known(other.youdenIndex).low).toBeCloseTo(known(one.youdenIndex).low, 12);
        expect(known(other.diagnosticOddsRatio).low).toBeCloseTo(
          known(one.diagnosticOddsRatio).low,
          9,
        );
      }),
    );
  });

  it("the design decides what can be estimated", () => {
    const referredOnly = accuracyFromCounts(table(30, 12, 0, 0), { verification: "none" });
    expect(referredOnly.sensitivity).toMatchObject({
      kind: "undefined",
      reason: "no child who passed was examined: the missed are unknown",
    });
    for (const measure of [
      "specificity",
      "negativePredictiveValue",
      "youdenIndex",
      "prevalence",
    ] as const) {
      expect(referredOnly[measure].kind).toBe("undefined");
    }
    expect(known(referredOnly.positivePredictiveValue).value).toBeCloseTo(30 / 42, 12);

    const partial = accuracyFromCounts(table(231, 32, 27, 54), { verification: "partial" });
    expect(partial.sensitivity.kind).toBe("undefined");
    expect(known(partial.diagnosticOddsRatio).value).toBeCloseTo(14.4375, 10);

    const enriched = accuracyFromCounts(table(231, 32, 27, 54), { sampling: "enriched" });
    expect(enriched.positivePredictiveValue.kind).toBe("undefined");
    expect(enriched.prevalence.kind).toBe("undefined");
    expect(enriched.sensitivity.kind).toBe("estimate");
    const stated = accuracyFromCounts(table(231, 32, 27, 54), {
      sampling: "enriched",
      prevalence: 0.02,
    });
    const odds = (0.02 / 0.98) * (231 / 258 / (32 / 86));
    expect(known(stated.positivePredictiveValue).value).toBeCloseTo(odds / (1 + odds), 12);
    expect(known(stated.referralRate).value).toBeCloseTo(0.02 * (231 / 258) + 0.98 * (32 / 86), 12);
  });

  it("refuses negative and fractional counts, unknown words, and negatives under verification none", () => {
    expect(() => accuracyFromCounts(table(-1, 0, 0, 1))).toThrow(
      "accuracyFromCounts requires truePositive to be a whole count of 0 or more, got -1",
    );
    expect(() => accuracyFromCounts(table(1, 0.5, 0, 1))).toThrow(/falsePositive/);
    // @ts-expect-error: not a word
    expect(() => accuracyFromCounts(table(1, 1, 1, 1), { verification: "some" })).toThrow(/"?some/);
    expect(() => accuracyFromCounts(table(1, 1, 1, 1), { verification: "none" })).toThrow(
      /examined negatives/,
    );
    expect(() => accuracyFromCounts(table(1, 1, 1, 1), { prevalence: 2 })).toThrow(/prevalence/);
  });

  it("is plain JSON and leaves a frozen table alone", () => {
    const counts = Object.freeze(table(3, 1, 2, 9));
    const result = accuracyFromCounts(counts);
    expect(JSON.parse(JSON.stringify(result))).toEqual(result);
  });
});
