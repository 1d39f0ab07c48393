import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  correctVerification,
  countVerification,
  imputeVerification,
  tippingPoint,
  verificationBounds,
} from "../../src/accuracy/index.js";
import { known } from "../known.js";

// Drum DE, Christacopoulos JS, J Nucl Med 1972;13:908-915: hepatic scintigraphy
const hepatic = {
  verified: { truePositive: 231, falsePositive: 32, falseNegative: 27, trueNegative: 54 },
  unverified: { testPositive: 166, testNegative: 140 },
};

describe("correctVerification", () => {
  // Begg and Greenes 1983 with Zhou's variance, as quoted from Harel and Zhou 2006 (seen there)
  it("hepatic scintigraphy: the printed corrected accuracy, symmetric intervals", () => {
    const result = correctVerification(hepatic, { method: "symmetric" });
    const printed = (estimate: Parameters<typeof known>[0]) => {
      const { value, low, high } = known(estimate);
      return [value, low, high].map((number) => number.toFixed(3));
    };
    expect(printed(result.sensitivity)).toEqual(["0.836", "0.788", "0.884"]);
    expect(printed(result.specificity)).toEqual(["0.738", "0.662", "0.815"]);
    expect(known(result.naive.sensitivity).value.toFixed(3)).toBe("0.895");
    expect(known(result.naive.specificity).value.toFixed(3)).toBe("0.628");
  });

  // R 4.2.2: the same formulas on the logit scale
  it("hepatic scintigraphy: logit intervals by R", () => {
    const { sensitivity, specificity, prevalence, method } = correctVerification(hepatic, {
      method: "logit",
    });
    expect(method).toBe("logit");
    expect(known(sensitivity).low).toBeCloseTo(0.782646518497574, 10);
    expect(known(sensitivity).high).toBeCloseTo(0.879020190063653, 10);
    expect(known(specificity).low).toBeCloseTo(0.655507713017367, 10);
    expect(known(specificity).high).toBeCloseTo(0.807209516839274, 10);
    expect(known(prevalence).value).toBeCloseTo(0.693029150823828, 12);
  });

  // tests/reference/accuracy/verification.R: delta method by numerical derivatives
  it("standard errors by R's numerical delta method, one and two strata", () => {
    const one = correctVerification(hepatic, { method: "logit" });
    expect(known(one.sensitivity).se).toBeCloseTo(0.02449803126, 8);
    expect(known(one.specificity).se).toBeCloseTo(0.03886267992, 8);
    // counts of Kosinski AS, Barnhart HX, Biometrics 2003;59:163-171, by age below and from 60
    const two = correctVerification(
      {
        verified: [
          { truePositive: 67, falsePositive: 133, falseNegative: 1, trueNegative: 21 },
          { truePositive: 128, falsePositive: 99, falseNegative: 4, trueNegative: 18 },
        ],
        unverified: [
          { testPositive: 547, testNegative: 783 },
          { testPositive: 449, testNegative: 438 },
        ],
      },
      { method: "logit" },
    );
    expect(known(two.sensitivity).value).toBeCloseTo(0.8400494771, 9);
    expect(known(two.specificity).value).toBeCloseTo(0.5912022287, 9);
    expect(known(two.sensitivity).se).toBeCloseTo(0.05889485023, 8);
    expect(known(two.specificity).se).toBeCloseTo(0.01772067187, 8);
  });

  // Cecil and others 1996: .82 and .59, values from memory
  it("coronary disease without strata", () => {
    const result = correctVerification({
      verified: { truePositive: 195, falsePositive: 232, falseNegative: 5, trueNegative: 39 },
      unverified: { testPositive: 996, testNegative: 1221 },
    });
    expect(known(result.sensitivity).value.toFixed(2)).toBe("0.82");
    expect(known(result.specificity).value.toFixed(2)).toBe("0.59");
  });

  it("Jeffreys draws agree with R's 400,000 within their own error", () => {
    const { sensitivity, specificity } = correctVerification(hepatic, {
      method: "jeffreys",
      replicates: 100000,
    });
    // a 2.5 % quantile of 1e5 draws has an error near .0002 here; six of them
    expect(Math.abs(known(sensitivity).low - 0.7862334)).toBeLessThan(0.0015);
    expect(Math.abs(known(sensitivity).high - 0.8814607)).toBeLessThan(0.0015);
    expect(Math.abs(known(specificity).low - 0.6564376)).toBeLessThan(0.0015);
    expect(Math.abs(known(specificity).high - 0.8082054)).toBeLessThan(0.0015);
  });

  it("a verified cell of 0: Jeffreys draws, named, holding the value", () => {
    const counts = {
      verified: { truePositive: 30, falsePositive: 20, falseNegative: 0, trueNegative: 40 },
      unverified: { testPositive: 10, testNegative: 900 },
    };
    const result = correctVerification(counts, { method: "logit", replicates: 100000 });
    expect(result.method).toBe("jeffreys");
    const sensitivity = known(result.sensitivity);
    expect([sensitivity.value, sensitivity.high]).toEqual([1, 1]);
    // R, as above; the low quantile of a heavy tail
    expect(Math.abs(sensitivity.low - 0.3774362)).toBeLessThan(0.01);
    expect(result.notes.join(" ")).toMatch(/Jeffreys/);
    expect(correctVerification(counts)).toEqual(correctVerification(counts));
  });

  // a variance of 0 was -1e-17 in binary, and its root NaN
  it("only children with the condition: symmetric limits without NaN", () => {
    for (const [truePositive, falseNegative, testPositive, testNegative] of [
      [1, 3, 237, 2],
      [49, 437, 2, 0],
      [3, 7, 11, 13],
    ]) {
      const corrected = correctVerification(
        {
          verified: { truePositive, falsePositive: 0, falseNegative, trueNegative: 0 },
          unverified: { testPositive, testNegative },
        },
        { method: "symmetric" },
      );
      const { value, low, high } = known(corrected.prevalence);
      expect(value).toBeCloseTo(1, 12);
      expect(low).toBeCloseTo(1, 7);
      expect(high).toBeCloseTo(1, 7);
    }
  });

  // rounding made .9999999999999999 of it, with limits no wider; Wilson 1927 by hand: n / (n + z²)
  it("a predictive value of 1 in every stratum has Wilson's limits on the effective rows", () => {
    const { positivePredictiveValue } = correctVerification(
      {
        verified: [
          { truePositive: 2, falsePositive: 0, falseNegative: 0, trueNegative: 1 },
          { truePositive: 2, falsePositive: 0, falseNegative: 2, trueNegative: 0 },
          { truePositive: 4, falsePositive: 0, falseNegative: 5, trueNegative: 0 },
        ],
        unverified: [
          { testPositive: 19, testNegative: 0 },
          { testPositive: 56, testNegative: 0 },
          { testPositive: 18, testNegative: 3 },
        ],
      },
      { method: "logit" },
    );
    const rows = 101 ** 2 / (21 ** 2 / 2 + 58 ** 2 / 2 + 22 ** 2 / 4);
    const { value, low, high } = known(positivePredictiveValue);
    expect(value).toBe(1);
    expect(low).toBeCloseTo(rows / (rows + 1.959963984540054 ** 2), 10);
    expect(high).toBe(1);
  });

  it("everyone examined: equal to the plain rates", () => {
    const cell = fc.integer({ min: 1, max: 200 });
    fc.assert(
      fc.property(cell, cell, cell, cell, (tp, fp, fn, tn) => {
        const counts = {
          verified: { truePositive: tp, falsePositive: fp, falseNegative: fn, trueNegative: tn },
          unverified: { testPositive: 0, testNegative: 0 },
        };
        const drawn = correctVerification(counts, { replicates: 50 });
        expect(known(drawn.sensitivity).value).toBeCloseTo(tp / (tp + fn), 12);
        const result = correctVerification(counts, { method: "logit" });
        expect(known(result.sensitivity).value).toBeCloseTo(tp / (tp + fn), 12);
        // and the variance is the binomial one
        const p = tp / (tp + fn);
        expect(known(result.sensitivity).se).toBeCloseTo(Math.sqrt((p * (1 - p)) / (tp + fn)), 10);
      }),
    );
  });

  it("bounds hold the corrected value, and unexamined rows only widen them", () => {
    const cell = fc.integer({ min: 1, max: 60 });
    const rest = fc.integer({ min: 0, max: 500 });
    fc.assert(
      fc.property(cell, cell, cell, cell, rest, rest, (tp, fp, fn, tn, up, un) => {
        const verified = {
          truePositive: tp,
          falsePositive: fp,
          falseNegative: fn,
          trueNegative: tn,
        };
        const counts = { verified, unverified: { testPositive: up, testNegative: un } };
        const { sensitivity, specificity, bounds } = correctVerification(counts, {
          method: "logit",
        });
        for (const [estimate, bound] of [
          [sensitivity, bounds.sensitivity],
          [specificity, bounds.specificity],
        ] as const) {
          if (bound.kind === "undefined") throw new Error(bound.reason);
          expect(known(estimate).value).toBeGreaterThanOrEqual(bound.low - 1e-12);
          expect(known(estimate).value).toBeLessThanOrEqual(bound.high + 1e-12);
        }
      }),
    );
  });

  // computed from the counts by the definition of the bounds
  it("hepatic bounds: .580 to .936 and .214 to .858", () => {
    const { sensitivity, specificity } = verificationBounds(hepatic);
    if (sensitivity.kind === "undefined" || specificity.kind === "undefined") throw new Error();
    const shown = [sensitivity.low, sensitivity.high, specificity.low, specificity.high];
    expect(shown.map((number) => number.toFixed(3))).toEqual(["0.580", "0.936", "0.214", "0.858"]);
  });

  it("bounds are attained: every filling of a small table, tried out", () => {
    const { truePositive, falsePositive, falseNegative, trueNegative } = {
      truePositive: 3,
      falsePositive: 2,
      falseNegative: 1,
      trueNegative: 4,
    };
    const all: number[][] = [];
    for (let up = 0; up <= 3; up++) {
      for (let un = 0; un <= 4; un++) {
        const tp = truePositive + up;
        const fp = falsePositive + 3 - up;
        const fn = falseNegative + un;
        const tn = trueNegative + 4 - un;
        all.push([tp / (tp + fn), tn / (tn + fp), tp / (tp + fp), tn / (tn + fn), (tp + fn) / 17]);
      }
    }
    const result = verificationBounds({
      verified: { truePositive, falsePositive, falseNegative, trueNegative },
      unverified: { testPositive: 3, testNegative: 4 },
    });
    const measures = [
      result.sensitivity,
      result.specificity,
      result.positivePredictiveValue,
      result.negativePredictiveValue,
      result.prevalence,
    ];
    measures.forEach((bound, i) => {
      const values = all.map((row) => row[i]);
      expect(bound).toEqual({
        kind: "bounds",
        low: Math.min(...values),
        high: Math.max(...values),
      });
    });
  });

  it("no pass examined: the reason, and what can still be estimated", () => {
    const result = correctVerification({
      verified: { truePositive: 30, falsePositive: 20, falseNegative: 0, trueNegative: 0 },
      unverified: { testPositive: 10, testNegative: 940 },
    });
    for (const measure of [
      "sensitivity",
      "specificity",
      "negativePredictiveValue",
      "prevalence",
    ] as const) {
      expect(result[measure]).toEqual({
        kind: "undefined",
        reason: "no child who passed was examined: the missed are unknown",
      });
    }
    expect(known(result.positivePredictiveValue).value).toBe(0.6);
    expect(result.bounds.positivePredictiveValue).toEqual({
      kind: "bounds",
      low: 0.5,
      high: 40 / 60,
    });
    expect(known(result.yieldPer1000).value).toBeCloseTo(36, 10);
    expect(result.ratioBias).toBeNull();
    expect(JSON.stringify(result)).not.toMatch(/NaN/);
  });

  it("a stratum without an examined pass is named", () => {
    const verified = { truePositive: 3, falsePositive: 2, falseNegative: 1, trueNegative: 4 };
    const result = correctVerification({
      verified: [verified, { ...verified, falseNegative: 0, trueNegative: 0 }],
      unverified: [
        { testPositive: 1, testNegative: 9 },
        { testPositive: 1, testNegative: 7 },
      ],
    });
    expect(result.sensitivity).toMatchObject({
      kind: "undefined",
      reason: "none of the children who passed (stratum 2) was examined",
    });
  });

  it("refuses counts that are not counts and strata that do not match", () => {
    const { verified, unverified } = hepatic;
    expect(() =>
      correctVerification({ verified, unverified: { ...unverified, testNegative: -1 } }),
    ).toThrow(/testNegative to be a whole count/);
    expect(() =>
      correctVerification({ verified: [verified, verified], unverified: [unverified] }),
    ).toThrow(/as many verified as unverified strata, got 2 and 1/);
    // @ts-expect-error: not a method
    expect(() => correctVerification(hepatic, { method: "wald" })).toThrow(/requires method/);
  });
});

describe("imputeVerification", () => {
  // Harel and Zhou 2006 (seen, secondary): .834 (.783-.886) and .733 (.656-.811), random and
  // dependent on the prior: within .005 for the values; .008 for the limits, theirs being symmetric
  it("hepatic scintigraphy", () => {
    const { sensitivity, specificity } = imputeVerification(hepatic, { replicates: 400, seed: 3 });
    expect(Math.abs(known(sensitivity).value - 0.834)).toBeLessThan(0.005);
    expect(Math.abs(known(specificity).value - 0.733)).toBeLessThan(0.0055);
    expect(Math.abs(known(sensitivity).low - 0.783)).toBeLessThan(0.008);
    expect(Math.abs(known(specificity).high - 0.811)).toBeLessThan(0.008);
  });

  it("has nothing to go on without an examined pass", () => {
    const result = imputeVerification({
      verified: { truePositive: 30, falsePositive: 20, falseNegative: 0, trueNegative: 0 },
      unverified: { testPositive: 10, testNegative: 940 },
    });
    expect(result.sensitivity.kind).toBe("undefined");
  });

  it("everyone examined: the plain rate whatever the seed", () => {
    const counts = { verified: hepatic.verified, unverified: { testPositive: 0, testNegative: 0 } };
    expect(known(imputeVerification(counts, { seed: 9 }).sensitivity).value).toBeCloseTo(
      231 / 258,
      12,
    );
  });
});

describe("tippingPoint", () => {
  it("the examined rate gives the corrected accuracy of one stratum", () => {
    const table = tippingPoint(hepatic);
    const row = table.rows.find(({ rate }) => rate === table.examinedRate);
    const { sensitivity, specificity } = correctVerification(hepatic);
    expect(row?.sensitivity).toBeCloseTo(known(sensitivity).value, 12);
    expect(row?.specificity).toBeCloseTo(known(specificity).value, 12);
  });

  it("sensitivity at the tipping rate is the target, and falls along the rates", () => {
    const { tippingRate, rows } = tippingPoint(hepatic, { target: 0.8 });
    if (tippingRate === null) throw new Error("no tipping rate");
    const at = tippingPoint(hepatic, { rates: [tippingRate] }).rows[0];
    expect(at.sensitivity).toBeCloseTo(0.8, 12);
    for (let i = 1; i < rows.length; i++) {
      expect(rows[i].sensitivity).toBeLessThan(rows[i - 1].sensitivity);
    }
  });

  it("no rate keeps an unreachable target, and rates are checked", () => {
    expect(tippingPoint(hepatic, { target: 0.99 }).tippingRate).toBeNull();
    expect(() => tippingPoint(hepatic, { rates: [1.2] })).toThrow(/rates from 0 to 1/);
  });
});

describe("countVerification", () => {
  const columns = {
    test: [1, 1, 1, 0, 0, 0, 0, 1],
    reference: [1, 0, null, 1, 0, 1, 0, 1],
    reason: [
      "referred",
      "referred",
      "not-examined",
      "sampled",
      "sampled",
      "self-presented",
      "unknown",
      "self-presented",
    ],
  };

  it("only drawn passes and referred referrals are verified", () => {
    expect(countVerification(columns)).toEqual({
      kind: "verification-count",
      n: 8,
      verified: { truePositive: 1, falsePositive: 1, falseNegative: 1, trueNegative: 1 },
      unverified: { testPositive: 2, testNegative: 2 },
      foundMeanwhile: { truePositive: 1, falsePositive: 0, falseNegative: 1, trueNegative: 1 },
      excluded: 0,
    });
  });

  it("refuses an unknown reason and an examined child without a finding", () => {
    const reason = [...columns.reason.slice(0, 7), "came"];
    expect(() => countVerification({ ...columns, reason })).toThrow(/got came in row 7/);
    const reference = [null, ...columns.reference.slice(1)];
    expect(() => countVerification({ ...columns, reference })).toThrow(
      /reference of examined rows to be .*, got null in row 0/,
    );
  });
});

describe("imputeVerification tells how much it moves with the seed", () => {
  const counts = {
    verified: { truePositive: 60, falsePositive: 30, falseNegative: 4, trueNegative: 96 },
    unverified: { testPositive: 20, testNegative: 700 },
  };

  it("its Monte Carlo error is the spread over seeds, and shrinks with the replicates", () => {
    const ends = (name: "value" | "low" | "high", replicates: number) => {
      const found = Array.from({ length: 40 }, (_, seed) => {
        const { sensitivity } = imputeVerification(counts, { seed, replicates });
        if (sensitivity.kind === "undefined") throw new Error(sensitivity.reason);
        return { end: sensitivity[name], said: sensitivity.monteCarloError![name] };
      });
      const mean = found.reduce((sum, { end }) => sum + end, 0) / 40;
      const spread = Math.sqrt(found.reduce((sum, { end }) => sum + (end - mean) ** 2, 0) / 39);
      return { spread, said: found.reduce((sum, { said }) => sum + said, 0) / 40 };
    };
    for (const name of ["value", "low", "high"] as const) {
      const { spread, said } = ends(name, 50);
      // 40 seeds know a spread to 11 %
      expect(said / spread, name).toBeGreaterThan(0.65);
      expect(said / spread, name).toBeLessThan(1.5);
    }
    expect(ends("low", 200).said).toBeLessThan(0.65 * ends("low", 50).said);
    const two = imputeVerification(counts, { replicates: 2 }).sensitivity;
    expect(two).toMatchObject({ monteCarloError: null });
  });
});
