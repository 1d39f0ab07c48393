import { describe, expect, it } from "vitest";
import {
  accuracyByGroup,
  accuracyFromCounts,
  clusteredAccuracy,
  cohenKappa,
  compareIndependentProportions,
  comparePairedAccuracy,
  comparePairedProportions,
  correctVerification,
  countVerification,
  crossClassify,
  imputeVerification,
  inconclusiveVariants,
  netBenefit,
  nonInferiority,
  predictiveValuesAt,
  referralYield,
  relativeRates,
  tippingPoint,
  unreadableBounds,
  unreadableVariants,
} from "../../src/accuracy/index.js";
import { wrong } from "../builders/wrong.js";
import { known } from "../known.js";

const table = (
  truePositive: number,
  falsePositive: number,
  falseNegative: number,
  trueNegative: number,
) => ({ truePositive, falsePositive, falseNegative, trueNegative });
const z = 1.959963984540054;
const half = { testPositive: 10, testNegative: 40 };

// two eyes a child, four children with the condition and four without, and one child of each kind
const test = [1, 1, 1, 0, 0, 1, 1, 1, 0, 0, 1, 0, 0, 0, 1, 1, 1, 0];
const reference = [1, 1, 1, 1, 1, 1, 1, 1, 0, 0, 0, 0, 0, 0, 0, 0, 1, 0];
const subjects = reference.map((_, row) => (row < 16 ? row >> 1 : 8));

describe("clustered rows", () => {
  const result = clusteredAccuracy({ test, reference, subjects });
  const cases = reference.reduce((sum, d) => sum + d, 0);
  const others = reference.length - cases;
  const se = test.filter((t, row) => t && reference[row]).length / cases;
  const sp = test.filter((t, row) => !t && !reference[row]).length / others;
  /** Each child's part in the error of a rate: of sensitivity, and of specificity. */
  const parts = Array.from({ length: 9 }, () => [0, 0]);
  test.forEach((t, row) => {
    if (reference[row]) parts[subjects[row]][0] += (t - se) / cases;
    else parts[subjects[row]][1] += (1 - t - sp) / others;
  });
  const sumOver = (f: (part: number[]) => number) => parts.reduce((sum, part) => sum + f(part), 0);

  it("likelihood ratios by the error over children, each side having five of them", () => {
    const positive = known(result.positiveLikelihoodRatio);
    const squares = sumOver(([a, b]) => (a / se + b / (1 - sp)) ** 2);
    expect(positive.method).toBe("log-clustered");
    expect((positive.se ?? 0) / positive.value).toBeCloseTo(Math.sqrt((5 / 4) * squares), 12);
  });

  it("Youden's index by both rates and their correlation over children", () => {
    const correlation =
      sumOver(([a, b]) => a * b) / Math.sqrt(sumOver(([a]) => a * a) * sumOver(([, b]) => b * b));
    const [a, b] = [known(result.sensitivity), known(result.specificity)].map(
      ({ value, low }) => value - low,
    );
    const reach = Math.sqrt(a * a + b * b + 2 * correlation * a * b);
    expect(correlation).not.toBe(0);
    expect(known(result.youdenIndex).low).toBeCloseTo(se + sp - 1 - reach, 12);
  });

  it("predictive values at a prevalence are the likelihood ratio at its odds", () => {
    const stated = clusteredAccuracy({ test, reference, subjects }, { prevalence: 0.1 });
    const ratio = known(stated.positiveLikelihoodRatio);
    const at = (r: number) => r / 9 / (1 + r / 9);
    const { value, low, high } = known(stated.positivePredictiveValue);
    expect([low, value, high]).toEqual(
      [ratio.low, ratio.value, ratio.high].map((r) => expect.closeTo(at(r), 12)),
    );
  });

  it("referred alone may be all there is", () => {
    const referred = { test: [1, 1, 1], reference: [1, 0, 1], subjects: ["a", "a", "b"] };
    expect(() => clusteredAccuracy(referred, { verification: "none" })).not.toThrow();
    const all = { ...referred, test: [1, 1, 0] };
    expect(() => clusteredAccuracy(all, { verification: "none" })).toThrow(/no examined negatives/);
  });
});

describe("kappa", () => {
  const square = [
    [20, 5],
    [3, 12],
  ];
  it("names its weights", () => {
    expect(cohenKappa(square, { weights: "linear" }).weights).toBe("linear");
    const weights = [
      [0, 1],
      [1, 0],
    ];
    expect(cohenKappa(square, { weights }).weights).toBe("given");
  });

  it.each([
    ["of another size", [[0, 1, 1]]],
    [
      "below 0",
      [
        [0, -1],
        [1, 0],
      ],
    ],
    [
      "of 0 disagreement off the diagonal only",
      [
        [1, 1],
        [1, 0],
      ],
    ],
  ])("refuses weights %s", (_, weights) => {
    expect(() => cohenKappa(square, { weights })).toThrow(/2 by 2 disagreement weights/);
  });
});

describe("comparisons", () => {
  it("a lower limit at minus the margin does not show non-inferiority", () => {
    const difference = { kind: "estimate", value: 0, low: -0.05, high: 0.05, level: 0.95 } as const;
    const judged = nonInferiority({ ...difference, method: "newcombe" }, { margin: 0.05 });
    expect(judged.conclusion).toBe("not-shown");
  });

  it("counts are whole and named", () => {
    const withCondition = { both: 1, firstOnly: 2, secondOnly: -1 };
    const withoutCondition = { both: 1, firstOnly: 2, secondOnly: 1 };
    expect(() => relativeRates({ withCondition, withoutCondition })).toThrow(
      /^relativeRates requires withCondition secondOnly/,
    );
  });

  const testA = [1, 1, 1, 0, 1, 0, 0, 1, 1, 0];
  const testB = [1, 0, 1, 1, 1, 1, 0, 0, 1, 0];
  const found = [1, 1, 0, 0, 1, 0, 0, 1, 0, 1];

  it("the ratio of predictive values has the error of its logarithm over children", () => {
    const { ratio, first, second } = comparePairedAccuracy({
      first: testA,
      second: testB,
      reference: found,
    }).positivePredictiveValue;
    const rate = (chosen: number[]) =>
      chosen.filter((t, row) => t && found[row]).length / chosen.filter((t) => t).length;
    expect([first, second]).toEqual([rate(testA), rate(testB)]);
    const part = (chosen: number[], row: number) =>
      (chosen[row] * (found[row] - rate(chosen))) / rate(chosen) / chosen.filter((t) => t).length;
    const squares = found.reduce(
      (sum, _, row) => sum + (part(testA, row) - part(testB, row)) ** 2,
      0,
    );
    const estimate = known(ratio);
    expect((estimate.se ?? 0) / estimate.value).toBeCloseTo(Math.sqrt((10 / 9) * squares), 12);
  });

  it("a predictive value of 0 has no ratio, and no result no value", () => {
    const none = comparePairedAccuracy({
      first: [1, 1, 0, 0, 0],
      second: [1, 0, 1, 1, 0],
      reference: [0, 0, 1, 0, 1],
    }).positivePredictiveValue;
    expect(none.first).toBe(0);
    expect(none.ratio).toEqual({
      kind: "undefined",
      reason: "a predictive value of 0 has no ratio",
    });
    const silent = comparePairedAccuracy({
      first: [0, 0, 0],
      second: [1, 0, 1],
      reference: [1, 0, 0],
    }).positivePredictiveValue;
    expect([silent.first, silent.second, silent.p]).toEqual([null, 0.5, null]);
    expect(silent.difference).toMatchObject({ reason: "one of the rules never gives this result" });
  });
});

describe("designs", () => {
  it("without a case a chosen sample has no referral rate", () => {
    const { referralRate, sensitivity } = accuracyFromCounts(table(0, 5, 0, 20), {
      sampling: "enriched",
      prevalence: 0.1,
    });
    expect(sensitivity.kind).toBe("undefined");
    expect(referralRate).toEqual(sensitivity);
  });

  it("an unknown policy is refused by its name", () => {
    const columns = { test: [1, 0], reference: [1, 0] };
    expect(() => crossClassify(columns, { undecidable: wrong("drop") })).toThrow(
      "crossClassify requires undecidable refer, pass, exclude, got drop",
    );
  });

  it("predictive values from a score interval keep a lower limit above 0", () => {
    const made = predictiveValuesAt(
      { table: table(18, 6, 2, 54), prevalence: 0.1 },
      { interval: "score" },
    );
    expect(made.kind).toBe("predictive-values");
    const { low, value, method } = known(made.positivePredictiveValue);
    expect(method).toBe("score");
    expect(low).toBeGreaterThan(0.1);
    expect(low).toBeLessThan(value);
  });

  it("rates from two sources are not called given while one of them has an interval", () => {
    const sensitivity = known(accuracyFromCounts(table(18, 6, 2, 54)).sensitivity);
    const mixed = predictiveValuesAt({ sensitivity, specificity: 0.9, prevalence: 0.1 });
    expect(mixed.method).toBe("extremes of both intervals");
    const given = predictiveValuesAt({ sensitivity: 0.9, specificity: 0.9, prevalence: 0.1 });
    expect(given.method).toBe("given");
  });
});

describe("net benefit", () => {
  const at = (source: Parameters<typeof netBenefit>[0]) =>
    netBenefit(source, { thresholdProbabilities: [0.2] }).points[0];

  it("of a rule that refers nobody is 0", () => {
    expect(known(at({ table: table(0, 0, 5, 15) }).netBenefit).value).toBe(0);
  });

  it("says why there is none", () => {
    expect(at({ table: table(0, 0, 0, 0) }).netBenefit).toMatchObject({ reason: "no children" });
    const noPass = at({
      verified: table(5, 5, 0, 0),
      unverified: { testPositive: 0, testNegative: 90 },
    });
    expect(noPass.referAll).toMatchObject({
      reason: "the prevalence is not known: no child who passed was examined",
    });
    const noReferral = at({
      verified: table(0, 0, 5, 5),
      unverified: { testPositive: 9, testNegative: 0 },
    });
    expect(noReferral.netBenefit).toMatchObject({
      reason: "no child who was referred was examined",
    });
  });
});

describe("verification", () => {
  it("predictive values over strata: between them and within them", () => {
    // referred of two strata: 100 and 50 rows, 20 and 25 examined, 12 and 20 of them right
    const counts = {
      verified: [table(12, 8, 2, 38), table(20, 5, 1, 29)],
      unverified: [
        { testPositive: 80, testNegative: 160 },
        { testPositive: 25, testNegative: 70 },
      ],
    };
    const { positivePredictiveValue, negativePredictiveValue } = correctVerification(counts, {
      method: "logit",
    });
    expect(known(negativePredictiveValue).value).toBeCloseTo(
      (200 / 300) * (38 / 40) + (100 / 300) * (29 / 30),
      12,
    );
    const [share, right, seen] = [
      [100 / 150, 50 / 150],
      [12 / 20, 20 / 25],
      [20, 25],
    ];
    const value = share[0] * right[0] + share[1] * right[1];
    const between = share.reduce((sum, w, k) => sum + w * (right[k] - value) ** 2, 0) / 150;
    const within = share.reduce(
      (sum, w, k) => sum + (w ** 2 * right[k] * (1 - right[k])) / seen[k],
      0,
    );
    const estimate = known(positivePredictiveValue);
    expect(estimate.value).toBeCloseTo(value, 12);
    expect(estimate.se).toBeCloseTo(Math.sqrt(between + within), 12);
  });

  it("the yield is a share of 1000 with its logit limits", () => {
    const { yieldPer1000 } = correctVerification(
      { verified: table(10, 20, 2, 28), unverified: half },
      { method: "logit" },
    );
    const { value, low, high, se } = known(yieldPer1000);
    const p = value / 1000;
    const reach = (z * (se ?? 0)) / 1000 / (p * (1 - p));
    const logit = Math.log(p / (1 - p));
    expect(low).toBeCloseTo(1000 / (1 + Math.exp(reach - logit)), 8);
    expect(high).toBeCloseTo(1000 / (1 + Math.exp(-reach - logit)), 8);
    const none = correctVerification(
      { verified: table(0, 20, 2, 28), unverified: half },
      { method: "logit" },
    );
    expect(none.yieldPer1000).toMatchObject({ reason: "no case found in 100 children" });
  });

  it("says what it rests on", () => {
    const logit = { method: "logit" } as const;
    const one = correctVerification({ verified: table(10, 20, 2, 28), unverified: half }, logit);
    expect(one.notes.join(" ")).toMatch(/being examined depended on nothing but the test result/);
    expect(one.notes.join(" ")).toMatch(/rests on 2 missed cases seen/);
    const ten = correctVerification({ verified: table(10, 20, 10, 28), unverified: half }, logit);
    expect(ten.notes.join(" ")).not.toMatch(/missed cases seen/);
  });

  it("without a referral there is nothing to correct", () => {
    const { sensitivity } = correctVerification(
      { verified: table(0, 0, 5, 5), unverified: { testPositive: 0, testNegative: 10 } },
      { method: "logit" },
    );
    expect(sensitivity).toMatchObject({ kind: "undefined", reason: "no child was referred" });
  });

  it("names itself where columns do not fit", () => {
    expect(() =>
      countVerification({ test: [1, 0], reference: [1, 0], reason: ["referred"] }),
    ).toThrow(/^countVerification requires columns of one length/);
  });

  it("imputes at least twice", () => {
    const counts = { verified: table(10, 20, 2, 28), unverified: half };
    expect(() => imputeVerification(counts, { replicates: 1 })).toThrow(
      "imputeVerification requires replicates as a whole number of at least 2, got 1",
    );
  });

  it("tips at a rate of 0 where the target is what was seen, and nowhere with everyone examined", () => {
    const source = { verified: table(80, 20, 80, 80), unverified: half };
    const referred = { ...source, unverified: { testPositive: 0, testNegative: 40 } };
    // binary digits put .8 of 100 a speck above 80
    const exact = {
      verified: { truePositive: 80, falsePositive: 20, falseNegative: 20, trueNegative: 80 },
      unverified: { testPositive: 0, testNegative: 100 },
    };
    expect(tippingPoint(exact, { target: 0.8 }).tippingRate).toBe(0);
    expect(tippingPoint(referred, { target: 0.5 }).tippingRate).toBe(0);
    const everyone = { ...source, unverified: { testPositive: 0, testNegative: 0 } };
    expect(tippingPoint(everyone, { target: 0.4 }).tippingRate).toBeNull();
    const blind = { verified: table(0, 0, 2, 28), unverified: half };
    expect(() => tippingPoint(blind)).toThrow(
      "tippingPoint requires an examined referral in each stratum, got none",
    );
  });
});

describe("results and refusals have their names", () => {
  it("kinds", () => {
    const difference = { kind: "estimate", value: 0, low: 0, high: 0.1, level: 0.95 } as const;
    const judged = nonInferiority({ ...difference, method: "newcombe" }, { margin: 0.05 });
    expect(judged).toMatchObject({ kind: "non-inferiority", conclusion: "non-inferior" });
    const [point] = netBenefit(
      { table: table(5, 5, 5, 5) },
      { thresholdProbabilities: [0.2] },
    ).points;
    expect(point.referNone).toMatchObject({ kind: "estimate", value: 0, low: 0, high: 0 });
    const columns = { test: [1, "undecidable", 0, 1], reference: [1, 1, 0, 0] };
    expect(unreadableBounds(columns).kind).toBe("unreadable-bounds");
    const source = {
      verified: table(8, 2, 1, 9),
      unverified: { testPositive: 1, testNegative: 9 },
    };
    expect(tippingPoint(source, { target: 0.01 })).toMatchObject({
      kind: "tipping-point",
      tippingRate: null,
    });
    const stated = clusteredAccuracy({ test, reference, subjects }, { prevalence: 0.1 });
    expect(stated.positivePredictiveValue.kind).toBe("estimate");
    const range = predictiveValuesAt({ table: table(8, 2, 1, 9), prevalence: [0.1, 0.2] });
    expect(range.table).toEqual(table(8, 2, 1, 9));
  });

  it("callers", () => {
    const short = { test: [1, 0], reference: [1] };
    expect(() => accuracyByGroup({ ...short, by: ["a", "b"] })).toThrow(/^accuracyByGroup /);
    expect(() => inconclusiveVariants(short)).toThrow(/^inconclusiveVariants /);
    const columns = { test: [1, 0], reference: [1, 0] };
    expect(() => unreadableVariants(columns, { preSpecified: wrong("drop") })).toThrow(
      /^unreadableVariants requires preSpecified/,
    );
    expect(() => correctVerification({ verified: [], unverified: [] })).toThrow(
      /as many verified as unverified strata, got 0 and 0$/,
    );
    const impossible = { screened: 100, referred: 20, examined: 10, withCondition: 11 };
    expect(() => referralYield(impossible)).toThrow(/got 11, 10, 20, 100$/);
  });

  it("reasons and notes", () => {
    const { positivePredictiveValue } = accuracyFromCounts(table(0, 0, 5, 20));
    expect(positivePredictiveValue).toMatchObject({ reason: "no positive test" });
    const { notes } = accuracyFromCounts(table(5, 5, 5, 20), { verification: "partial" });
    expect(notes.join(" ")).toMatch(/^Predictive values and odds ratio are those of examined/);
    const source = { verified: table(10, 20, 12, 28), unverified: half };
    const symmetric = /may pass 0 or 1, and has no width where a cell is 0/;
    const notesBy = (method: "symmetric" | "logit") =>
      correctVerification(source, { method }).notes.join(" ");
    expect(notesBy("symmetric")).toMatch(symmetric);
    expect(notesBy("logit")).not.toMatch(symmetric);
  });

  it("nobody in the second group is no comparison, and pairs add up", () => {
    const first = { successes: 3, trials: 10 };
    const second = { successes: 0, trials: 0 };
    expect(compareIndependentProportions({ first, second }).p).toBeNull();
    expect(comparePairedProportions({ both: 5, firstOnly: 4, secondOnly: 3, neither: 2 }).n).toBe(
      14,
    );
  });

  it("a stratum without referrals leaves the tipping rate to the others", () => {
    const one = tippingPoint(
      { verified: table(80, 20, 2, 98), unverified: { testPositive: 0, testNegative: 800 } },
      { target: 0.8 },
    );
    const two = tippingPoint(
      {
        verified: [table(80, 20, 2, 48), table(0, 0, 0, 50)],
        unverified: [
          { testPositive: 0, testNegative: 400 },
          { testPositive: 0, testNegative: 400 },
        ],
      },
      { target: 0.8 },
    );
    expect(two.tippingRate).toBeCloseTo(one.tippingRate!, 12);
  });

  it("the yield per 1000 has its limits per 1000", () => {
    const counts = { screened: 1000, referred: 100, examined: 90, withCondition: 30 };
    const { value, low, high } = known(referralYield(counts).foundPer1000);
    expect(value).toBe(30);
    // Wilson limits of 30 in 1000 by the formula
    const middle = (30 + z ** 2 / 2) / (1000 + z ** 2);
    const reach = (z / (1000 + z ** 2)) * Math.sqrt((30 * 970) / 1000 + z ** 2 / 4);
    expect(low).toBeCloseTo(1000 * (middle - reach), 8);
    expect(high).toBeCloseTo(1000 * (middle + reach), 8);
  });
});
