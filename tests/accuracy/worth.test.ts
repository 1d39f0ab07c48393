import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import {
  accuracyFromCounts,
  cohenKappa,
  correctVerification,
  type KappaWeights,
  netBenefit,
  predictiveValuesAt,
  referralYield,
} from "../../src/accuracy/index.js";
import { createRandom } from "../../src/inference/index.js";
import { wrong } from "../builders/wrong.js";
import { known } from "../known.js";

const reference = JSON.parse(
  readFileSync(new URL("../reference/accuracy/comparisons.json", import.meta.url), "utf8"),
) as { kappa: [string, number[][], KappaWeights, number, number][] };

const liver = { truePositive: 231, falsePositive: 32, falseNegative: 27, trueNegative: 54 };

describe("predictiveValuesAt", () => {
  it("Bayes' rule, by a population of 1,000,000", () => {
    const { positivePredictiveValue, negativePredictiveValue } = predictiveValuesAt({
      sensitivity: 0.9,
      specificity: 0.8,
      prevalence: 0.02,
    });
    expect(known(positivePredictiveValue).value).toBeCloseTo(18000 / (18000 + 196000), 12);
    expect(known(negativePredictiveValue).value).toBeCloseTo(784000 / (784000 + 2000), 12);
    expect(known(positivePredictiveValue).method).toBe("given");
  });

  it("Mercaldo, Lau and Zhou 2007: the logit variance by numerical derivatives", () => {
    const result = predictiveValuesAt({ table: liver, prevalence: 0.1 });
    const logit = (se: number, sp: number) => Math.log((se * 0.1) / ((1 - sp) * 0.9));
    const [se, sp, h] = [231 / 258, 54 / 86, 1e-6];
    const bySe = (logit(se + h, sp) - logit(se - h, sp)) / (2 * h);
    const bySp = (logit(se, sp + h) - logit(se, sp - h)) / (2 * h);
    const variance = (bySe ** 2 * se * (1 - se)) / 258 + (bySp ** 2 * sp * (1 - sp)) / 86;
    const { low, high } = known(result.positivePredictiveValue);
    const width = Math.log(high / (1 - high)) - Math.log(low / (1 - low));
    expect(width).toBeCloseTo(2 * 1.959963984540054 * Math.sqrt(variance), 7);
  });

  // tests/reference/accuracy/paired.R
  it("Mercaldo, Lau and Zhou 2007 by R", () => {
    const { positivePredictiveValue, negativePredictiveValue } = predictiveValuesAt({
      table: liver,
      prevalence: 0.05,
    });
    const shown = [positivePredictiveValue, negativePredictiveValue].flatMap((estimate) => {
      const { value, low, high } = known(estimate);
      return [value, low, high].map((number) => number.toFixed(8));
    });
    expect(shown).toEqual([
      "0.11240876",
      "0.08753825",
      "0.14323604",
      "0.99130435",
      "0.98718135",
      "0.99410914",
    ]);
  });

  it("at the sample's own prevalence the value is the sample's own", () => {
    const own = accuracyFromCounts(liver);
    const result = predictiveValuesAt({ table: liver, prevalence: 258 / 344 });
    expect(known(result.positivePredictiveValue).value).toBeCloseTo(
      known(own.positivePredictiveValue).value,
      12,
    );
    expect(known(result.negativePredictiveValue).value).toBeCloseTo(
      known(own.negativePredictiveValue).value,
      12,
    );
  });

  it("over a range: rises for positive, falls for negative", () => {
    const prevalences = Float64Array.of(0.005, 0.01, 0.02, 0.05, 0.1, 0.2);
    const { points } = predictiveValuesAt({ table: liver, prevalence: prevalences });
    expect(points.map(({ prevalence }) => prevalence)).toEqual([...prevalences]);
    for (let i = 1; i < points.length; i++) {
      expect(known(points[i].positivePredictiveValue).value).toBeGreaterThan(
        known(points[i - 1].positivePredictiveValue).value,
      );
      expect(known(points[i].negativePredictiveValue).high).toBeLessThan(
        known(points[i - 1].negativePredictiveValue).high,
      );
    }
  });

  it("zero cells: the score interval, labelled; no such result: undefined", () => {
    const perfect = { truePositive: 20, falsePositive: 0, falseNegative: 5, trueNegative: 60 };
    const { positivePredictiveValue } = predictiveValuesAt({ table: perfect, prevalence: 0.02 });
    const { value, low, high, method } = known(positivePredictiveValue);
    expect([value, high, method]).toEqual([1, 1, "score"]);
    expect(low).toBeGreaterThan(0.1);
    expect(low).toBeLessThan(0.6);
    const silent = { truePositive: 0, falsePositive: 0, falseNegative: 5, trueNegative: 60 };
    expect(
      predictiveValuesAt({ table: silent, prevalence: 0.02 }).positivePredictiveValue.kind,
    ).toBe("undefined");
  });

  it("corrected estimates are carried with the extremes of both intervals", () => {
    const corrected = correctVerification({
      verified: liver,
      unverified: { testPositive: 166, testNegative: 140 },
    });
    const sensitivity = known(corrected.sensitivity);
    const specificity = known(corrected.specificity);
    const { positivePredictiveValue } = predictiveValuesAt({
      sensitivity,
      specificity,
      prevalence: 0.05,
    });
    const at = (se: number, sp: number) => (0.05 * se) / (0.05 * se + 0.95 * (1 - sp));
    expect(known(positivePredictiveValue).low).toBeCloseTo(
      at(sensitivity.low, specificity.low),
      12,
    );
    expect(known(positivePredictiveValue).high).toBeCloseTo(
      at(sensitivity.high, specificity.high),
      12,
    );
  });

  it("an undefined rate passes its reason on", () => {
    const missing = { kind: "undefined", reason: "no child who passed was examined" } as const;
    expect(
      predictiveValuesAt({ sensitivity: missing, specificity: 0.9, prevalence: 0.1 })
        .negativePredictiveValue,
    ).toEqual(missing);
  });

  it("refuses a prevalence of 0, percentages, and a source without rates", () => {
    expect(() => predictiveValuesAt({ table: liver, prevalence: 0 })).toThrow(
      /prevalence between 0 and 1/,
    );
    expect(() =>
      predictiveValuesAt({ sensitivity: 90, specificity: 0.8, prevalence: 0.1 }),
    ).toThrow(/sensitivity from 0 to 1, got 90/);
    expect(() => predictiveValuesAt(wrong({ prevalence: 0.1 }))).toThrow(/requires a table/);
  });
});

describe("netBenefit", () => {
  // Public tutorial data of 750 patients, 105 cancers, for Vickers AJ, Elkin EB, Med Decis Making
  // 2006;26:565-574: counts at each probability, net benefits as printed there (seen)
  const at = (tp: number, fp: number) => ({
    truePositive: tp,
    falsePositive: fp,
    falseNegative: 105 - tp,
    trueNegative: 645 - fp,
  });

  it("net benefit of a model and of referring all at 25 %", () => {
    const [point] = netBenefit({ table: at(72, 72) }, { thresholdProbabilities: [0.25] }).points;
    expect(known(point.netBenefit).value.toFixed(7)).toBe("0.0640000");
    expect(known(point.referAll).value.toFixed(7)).toBe("-0.1466667");
    expect(known(point.referNone).value).toBe(0);
    expect(known(point.referralsAvoided).value.toFixed(3)).toBe("0.632");
  });

  it("family history at a threshold of 0, and everyone", () => {
    const [point] = netBenefit({ table: at(24, 91) }, { thresholdProbabilities: [0] }).points;
    expect(known(point.netBenefit).value.toFixed(3)).toBe("0.032");
    expect(known(point.referAll).value.toFixed(3)).toBe("0.140");
    expect(point.referralsAvoided.kind).toBe("undefined");
  });

  // computed from the data by the same definition
  it.each([
    [0.05, 96, 320, 0.105543859649123],
    [0.1, 87, 193, 0.0874074074074074],
    [0.2, 75, 98, 0.0673333333333333],
    [0.35, 57, 36, 0.0501538461538462],
  ])("model at %d", (threshold, tp, fp, expected) => {
    const [point] = netBenefit(
      { table: at(tp, fp) },
      { thresholdProbabilities: [threshold] },
    ).points;
    expect(known(point.netBenefit).value).toBeCloseTo(expected, 12);
  });

  it("standard errors by a bootstrap of children, complete and partly examined", () => {
    const random = createRandom(4);
    const complete = at(72, 72);
    const cells = [72, 72, 33, 573];
    const draw = () => {
      const counts = [0, 0, 0, 0];
      for (let i = 0; i < 750; i++) {
        let u = random.integer(750);
        let cell = 0;
        while (u >= cells[cell]) u -= cells[cell++];
        counts[cell]++;
      }
      return {
        truePositive: counts[0],
        falsePositive: counts[1],
        falseNegative: counts[2],
        trueNegative: counts[3],
      };
    };
    const options = { thresholdProbabilities: [0.2] };
    const samples = Array.from(
      { length: 2000 },
      () => netBenefit({ table: draw() }, options).points[0],
    );
    const [point] = netBenefit({ table: complete }, options).points;
    for (const line of ["netBenefit", "referAll", "referralsAvoided"] as const) {
      const values = samples.map((sample) => known(sample[line]).value);
      const mean = values.reduce((sum, value) => sum + value, 0) / 2000;
      const sd = Math.sqrt(values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / 1999);
      // 2,000 replicates: 1.6 % error of a standard deviation
      expect(Math.abs((known(point[line]).se ?? 0) / sd - 1), line).toBeLessThan(0.06);
    }
  });

  it("no pass examined: the rule's own line stays, the others have no prevalence", () => {
    const { points } = netBenefit({
      verified: { truePositive: 30, falsePositive: 20, falseNegative: 0, trueNegative: 0 },
      unverified: { testPositive: 10, testNegative: 940 },
    });
    expect(points).toHaveLength(50);
    const point = points[19];
    // 60 referrals, 60 % with the condition: 36 and 24 of 1000, weighed at .2
    expect(known(point.netBenefit).value).toBeCloseTo(0.036 - 0.024 * 0.25, 12);
    expect(point.referAll.kind).toBe("undefined");
    expect(point.referNone.kind).toBe("undefined");
  });

  it("refuses a threshold of 1 and percentages", () => {
    expect(() => netBenefit({ table: liver }, { thresholdProbabilities: [1] })).toThrow(
      /thresholdProbabilities from 0 to below 1/,
    );
    expect(() => netBenefit({ table: liver }, { thresholdProbabilities: [20] })).toThrow(/got 20/);
  });
});

describe("cohenKappa", () => {
  // statsmodels: Stuart's women of 1953 (Biometrika 40:105-110), and 91 couples (Agresti 1990)
  it.each(reference.kappa)("statsmodels: %s %j %s", (_name, table, weights, value, se) => {
    const { kappa } = cohenKappa(table, { weights });
    expect(known(kappa).value).toBeCloseTo(value, 12);
    expect(known(kappa).se).toBeCloseTo(se, 12);
  });

  // Agresti 1990, p. 366: .129 (.069) and .332, values from memory
  it("91 couples as in the book", () => {
    const couples = reference.kappa.find(([name]) => name === "couples")?.[1] ?? [];
    expect(known(cohenKappa(couples).kappa).value.toFixed(3)).toBe("0.129");
    expect(known(cohenKappa(couples).kappa).se?.toFixed(3)).toBe("0.069");
    expect(known(cohenKappa(couples, { weights: "quadratic" }).kappa).value.toFixed(3)).toBe(
      "0.332",
    );
  });

  // Cohen 1968; Fleiss, Cohen and Everitt 1969: .492 and .348, values from memory; n = 200 too.
  // Standard errors computed in R 4.2.2 from the 1969 formula.
  it("own disagreement weights", () => {
    const table = [
      [88, 14, 18],
      [10, 40, 10],
      [2, 6, 12],
    ];
    const weights = [
      [0, 1, 3],
      [1, 0, 6],
      [3, 6, 0],
    ];
    expect(known(cohenKappa(table).kappa).value.toFixed(3)).toBe("0.492");
    expect(known(cohenKappa(table).kappa).se).toBeCloseTo(0.0510018155760779, 12);
    expect(known(cohenKappa(table, { weights }).kappa).value.toFixed(3)).toBe("0.348");
    expect(known(cohenKappa(table, { weights }).kappa).se).toBeCloseTo(0.0755040152548229, 12);
  });

  it("full agreement is 1; linear equals none for two categories; one category has no kappa", () => {
    expect(
      known(
        cohenKappa([
          [5, 0],
          [0, 7],
        ]).kappa,
      ),
    ).toMatchObject({ value: 1, high: 1 });
    const two = [
      [20, 5],
      [3, 12],
    ];
    expect(known(cohenKappa(two, { weights: "linear" }).kappa)).toEqual(
      known(cohenKappa(two).kappa),
    );
    expect(
      cohenKappa([
        [9, 0],
        [0, 0],
      ]).kappa.kind,
    ).toBe("undefined");
    expect(
      cohenKappa([
        [0, 0],
        [0, 0],
      ]).kappa,
    ).toEqual({ kind: "undefined", reason: "no rows" });
  });

  it("refuses tables and weights that do not fit", () => {
    expect(() => cohenKappa([[1, 2]])).toThrow(/square table/);
    expect(() =>
      cohenKappa([
        [1, 2],
        [3, -4],
      ]),
    ).toThrow(/whole count/);
    expect(() =>
      cohenKappa(
        [
          [1, 2],
          [3, 4],
        ],
        {
          weights: [
            [1, 0],
            [0, 1],
          ],
        },
      ),
    ).toThrow(/0 on the diagonal/);
  });
});

describe("referralYield", () => {
  const counts = { screened: 1000, referred: 80, examined: 50, withCondition: 25 };

  it("referrals per case are the inverse of the positive predictive value", () => {
    const { referredPerCase, foundPer1000 } = referralYield(counts);
    const share = known(
      accuracyFromCounts(
        { truePositive: 25, falsePositive: 25, falseNegative: 0, trueNegative: 0 },
        { verification: "none" },
      ).positivePredictiveValue,
    );
    expect(known(referredPerCase)).toMatchObject({
      value: 2,
      low: 1 / share.high,
      high: 1 / share.low,
    });
    expect(known(foundPer1000).value).toBe(25);
  });

  it("cost per case and its error by a bootstrap of children", () => {
    const costs = { perScreening: 5, perExam: 100 };
    const estimate = known(referralYield(counts, { costs }).costPerCase);
    expect(estimate.value).toBe((1000 * 5 + 50 * 100) / 25);
    const random = createRandom(8);
    const logs = Array.from({ length: 2000 }, () => {
      let examined = 0;
      let cases = 0;
      for (let child = 0; child < 1000; child++) {
        const u = random.integer(1000);
        if (u < 50) examined++;
        if (u < 25) cases++;
      }
      return Math.log((5000 + 100 * examined) / cases);
    });
    const mean = logs.reduce((sum, value) => sum + value, 0) / 2000;
    const sd = Math.sqrt(logs.reduce((sum, value) => sum + (value - mean) ** 2, 0) / 1999);
    const width = Math.log(estimate.high / estimate.low) / (2 * 1.959964);
    expect(Math.abs(width / sd - 1)).toBeLessThan(0.08);
  });

  it("no case: a lower limit only; no costs: undefined; counts must nest", () => {
    const none = referralYield(
      { ...counts, withCondition: 0 },
      { costs: { perScreening: 5, perExam: 1 } },
    );
    expect(none.referredPerCase).toMatchObject({ kind: "undefined" });
    expect(none.referredPerCase.low).toBeGreaterThan(10);
    expect(none.costPerCase.kind).toBe("undefined");
    expect(referralYield(counts).costPerCase).toEqual({
      kind: "undefined",
      reason: "no costs were given",
    });
    expect(() => referralYield({ ...counts, examined: 90 })).toThrow(
      /withCondition <= examined <= referred/,
    );
    // a screening that costs nothing is a cost too; a negative one is none
    const free = referralYield(counts, { costs: { perScreening: 0, perExam: 1 } }).costPerCase;
    expect(known(free).value).toBeCloseTo(counts.examined / counts.withCondition, 12);
    expect(() => referralYield(counts, { costs: { perScreening: -1, perExam: 1 } })).toThrow(
      "costs of 0 or more, got -1 and 1",
    );
  });
});
