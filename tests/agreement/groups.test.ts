import { describe, expect, test } from "vitest";
import { brownForsythe } from "../../src/agreement/brownForsythe.js";
import {
  axisAgreement,
  biasBy,
  calibrateReading,
  differenceRegression,
  examinationWeights,
  greyZone,
  limitsOfAgreement,
  predictFinding,
  weightedLimits,
  withinDifference,
} from "../../src/agreement/index.js";
import { foldedAxisDifference } from "../../src/agreement/vectors/axisAgreement.js";
import { toleranceSquaredRadius } from "../../src/agreement/vectors/toleranceSquaredRadius.js";
import { createRandom } from "../../src/index.js";
import { known } from "../known.js";
import { equivalents } from "./children.js";

describe("differenceRegression: statsmodels 0.13.5 (tests/reference/agreement/reference.py)", () => {
  const reference = Array.from({ length: 12 }, (_, i) => i + 1);
  const data = {
    test: [2.1, 2.9, 4.2, 4.8, 6.5, 6.9, 8.4, 8.8, 10.1, 11.3, 11.8, 13.4],
    reference,
    covariates: { ageYears: [3, 3, 4, 4, 5, 5, 7, 7, 6, 6, 8, 8], reference },
  };

  test("cluster-robust", () => {
    const r = differenceRegression({ ...data, subjects: [0, 0, 1, 1, 2, 2, 3, 3, 4, 4, 5, 5] });
    const expected = [
      [9.72496148e-1, 0.20614826, 0.00525452],
      [2.37288136e-2, 0.08614006, 0.79397837],
      [-4.62249615e-4, 0.04406634, 0.99203614],
    ];
    r.coefficients.forEach(({ estimate, p }, index) => {
      expect(estimate.value).toBeCloseTo(expected[index][0], 8);
      expect(estimate.se).toBeCloseTo(expected[index][1], 7);
      expect(p).toBeCloseTo(expected[index][2], 7);
    });
    expect(r.errors).toBe("cluster-robust");
  });

  // R's lm and hatvalues (tests/reference/agreement/hc3.R)
  test("independent rows: HC3, which does not take the spread for constant", () => {
    const r = differenceRegression(data);
    expect(r.errors).toBe("robust");
    expect(known(r.coefficients[0].estimate).se).toBeCloseTo(0.47200133474, 9);
    expect(known(r.coefficients[1].estimate).se).toBeCloseTo(0.18490814763, 9);
    expect(r.wald).toMatchObject({ df: [2, 9] });
    if (!("f" in r.wald)) throw new Error("no Wald test");
    expect(r.wald.f).toBeCloseTo(0.09097854977, 8);
    expect(r.wald.p).toBeCloseTo(0.91386622252, 8);
  });

  test("the slope of limitsOfAgreement has the same error, by its own pass", () => {
    const { slope } = limitsOfAgreement({ test: data.test, reference });
    expect(slope).toMatchObject({ method: "t-robust" });
    expect(known(slope).value).toBeCloseTo(0.01292462937, 9);
    expect(known(slope).se).toBeCloseTo(0.02229380849, 9);
  });

  test("a spread that grows with the covariate: the slope's interval covers, the classical one does not", () => {
    const random = createRandom(17);
    let [robust, classical] = [0, 0];
    const runs = 600;
    for (let run = 0; run < runs; run++) {
      const x = Array.from({ length: 100 }, () => Math.abs(random.normal()));
      const test = x.map((value) => 2 * value * random.normal());
      const zeros = test.map(() => 0);
      const r = differenceRegression({ test, reference: zeros, covariates: { x } });
      const { value, low, high, se } = known(r.coefficients[1].estimate);
      robust += Number(low <= 0 && 0 <= high);
      const mean = x.reduce((sum, one) => sum + one, 0) / 100;
      const spread = x.reduce((sum, one) => sum + (one - mean) ** 2, 0);
      classical += Number(Math.abs(value) <= 1.984 * (r.residualSd / Math.sqrt(spread)));
      expect(se).toBeGreaterThan(0);
    }
    expect(robust / runs).toBeGreaterThan(0.92);
    expect(classical / runs).toBeLessThan(0.88);
  });

  test("collinear covariates are refused", () => {
    const covariates = { a: data.covariates.ageYears, b: data.covariates.ageYears };
    expect(() => differenceRegression({ ...data, covariates })).toThrow("not collinear");
  });
});

describe("biasBy on the children data: the compression of high myopia is seen", () => {
  const { test: reading, reference, subjects } = equivalents("screener_pre", "both");
  const r = biasBy(
    { test: reading, reference, subjects, by: reference },
    { label: "cycloplegic equivalent", breaks: [-5.9375, -2.9375, 2.0625], normality: "skip" },
  );

  test("-0.45 D for references of -3 to -6, +2.45 D beyond -6 (n 64), -3.11 D above +2 (n 13)", () => {
    const of = (index: number) => r.groups[index];
    expect(of(0).bias.value).toBeCloseTo(2.45, 2);
    expect(of(0).n).toBe(64);
    expect(of(3).bias.value).toBeCloseTo(-3.11, 2);
    expect(of(3).n).toBe(13);
    expect(of(1).bias.value).toBeCloseTo(-0.45, 1);
  });

  test("groups add up and differ", () => {
    expect(r.groups.reduce((sum, group) => sum + group.n, 0) + r.withoutGroup).toBe(1071);
    if (r.homogeneity.kind === "undefined") throw new Error(r.homogeneity.reason);
    expect(r.homogeneity.p).toBeLessThan(1e-6);
  });

  test("a group is what limitsOfAgreement says of its rows; small ones are undefined", () => {
    const data = {
      test: [1, 2, 3, 4, 9],
      reference: [1, 1, 2, 2, 8],
      by: ["a", "a", "a", "b", "b"],
    };
    const groups = biasBy(data, { label: "site" }).groups;
    const alone = limitsOfAgreement(
      { test: [1, 2, 3], reference: [1, 1, 2] },
      { conditional: "skip" },
    );
    expect(groups[0].agreement).toEqual(alone);
    expect(groups[0].upper).toEqual(alone.upper);
    expect(groups[1].agreement.kind).toBe("undefined");
    expect(groups[1].bias.kind).toBe("undefined");
  });

  test("rows without a group are counted, measurements need breaks", () => {
    const data = { test: [1, 2, 3, 4], reference: [1, 1, 2, 2], by: [1, Number.NaN, 5, 6] };
    expect(biasBy(data, { label: "age", breaks: [4] }).withoutGroup).toBe(1);
    const measured = { ...data, by: [1.5, 2, 3, 4] };
    expect(() => biasBy(measured, { label: "age" })).toThrow("requires breaks");
  });
});

describe("weightedLimits", () => {
  // An instrument without bias: referral selects on the reading and shows one.
  const random = createRandom(5);
  const readings: number[] = [];
  const findings: number[] = [];
  const examined: boolean[] = [];
  const strata: string[] = [];
  for (let child = 0; child < 4000; child++) {
    const finding = 1 + random.normal();
    const reading = finding + 0.7 * random.normal();
    const referred = reading >= 2;
    readings.push(reading);
    findings.push(finding);
    strata.push(referred ? "referred" : "passed");
    examined.push(referred || random.uniform() < 0.15);
  }
  const weights = examinationWeights({ examined, strata });
  const keep = readings.map((_, child) => child).filter((child) => examined[child]);
  const r = weightedLimits({
    test: keep.map((child) => readings[child]),
    reference: keep.map((child) => findings[child]),
    weights: keep.map((child) => weights[child]),
  });

  test("the weighted bias is none, the one among the examined is", () => {
    expect(r.amongExamined.bias.low).toBeGreaterThan(0.1);
    expect(Math.abs(r.bias.value)).toBeLessThan(3 * (r.bias.se ?? 0));
    expect(Math.abs(r.lower.value - -1.372)).toBeLessThan(3 * (r.lower.se ?? 0));
    expect(weights.reduce((a, b) => a + b)).toBeCloseTo(4000, 6);
  });

  test("equal weights give the plain limits", () => {
    const data = { test: [1, 2, 4, 5, 7], reference: [1, 1, 4, 3, 7] };
    const plain = limitsOfAgreement(data);
    const weighted = weightedLimits({ ...data, weights: [2, 2, 2, 2, 2] });
    expect(weighted.lower.value).toBeCloseTo(plain.lower.value, 12);
    expect(weighted.sd.value).toBeCloseTo(plain.sd.value, 12);
    expect(weighted.bias.low).toBeCloseTo(plain.bias.low, 12);
  });

  test("a stratum that nobody was examined of has no weight", () => {
    const data = { examined: [true, false], strata: ["a", "b"] };
    expect(() => examinationWeights(data)).toThrow("every stratum, got none in b");
  });
});

describe("greyZone", () => {
  test("by hand, at the limit and at the margin", () => {
    const data = {
      test: [2, 1.5, 2.5, 2.51, 0, 4],
      reference: [1.9, 2, 2.5, 2.5, 0, 4],
      subjects: [1, 2, 3, 4, 5, 6],
    };
    const r = greyZone(data, { limit: 2, positiveWhen: "high" });
    expect(r.inZone).toBe(3);
    expect(r.misclassifiedInside.value).toBeCloseTo(2 / 3, 12);
    expect(r.misclassifiedOutside.value).toBe(0);
  });

  test("a child counts once, by its worse eye; low is the mirror of high", () => {
    const data = {
      test: [-3.25, 0, 1, 1],
      reference: [-2.5, 0, 1, 1],
      subjects: ["a", "a", "b", "b"],
    };
    const low = greyZone(data, { limit: -3, positiveWhen: "low" });
    const turned = (values: number[]) => values.map((v) => -v);
    const high = greyZone(
      { ...data, test: turned(data.test), reference: turned(data.reference) },
      { limit: 3, positiveWhen: "high" },
    );
    expect(low).toMatchObject({ n: 2, inZone: 1 });
    expect(low.misclassifiedInside.value).toBe(1);
    expect({ ...low, limit: 3, referenceLimit: 3, positiveWhen: "high" }).toEqual(high);
  });
});

describe("calibrateReading", () => {
  const { test: reading, reference, subjects } = equivalents("screener_pre", "both");
  const calibration = calibrateReading({ test: reading, reference, subjects });

  test("a compressed reading is stretched back", () => {
    const random = createRandom(2);
    const finding = Array.from({ length: 400 }, () => 2 * random.normal());
    const r = calibrateReading({
      test: finding.map((m) => 0.5 * m - 0.5 + 0.2 * random.normal()),
      reference: finding,
    });
    // Errors of 0.2 D, stretched twice; least squares shrinks a little.
    expect(r.slope.low).toBeGreaterThan(1.8);
    expect(r.slope.high).toBeLessThan(2.05);
    expect(r.crossValidated.sd).toBeGreaterThan(0.34);
    expect(r.crossValidated.sd).toBeLessThan(0.46);
    expect(r.uncalibratedSd).toBeGreaterThan(0.9);
  });

  test("says what it is; held-out errors are no smaller than fitted ones", () => {
    expect(calibration.label).toBe("research estimate");
    expect(calibration.caution).toContain("not a medical device");
    expect(Math.abs(calibration.crossValidated.bias)).toBeLessThan(0.02);
    const residuals = reading.map(
      (x, i) => calibration.intercept.value + calibration.slope.value * x - reference[i],
    );
    const fitted = Math.sqrt(residuals.reduce((sum, e) => sum + e * e, 0) / (residuals.length - 1));
    expect(calibration.crossValidated.sd).toBeGreaterThan(fitted);
    expect(calibration.crossValidated.sd).toBeLessThan(1.02 * fitted);
  });

  test("least squares of the finding on the reading", () => {
    const mean = (v: number[]) => v.reduce((a, b) => a + b) / v.length;
    const [mx, my] = [mean(reading), mean(reference)];
    const slope =
      reading.reduce((sum, x, i) => sum + (x - mx) * (reference[i] - my), 0) /
      reading.reduce((sum, x) => sum + (x - mx) ** 2, 0);
    expect(calibration.slope.value).toBeCloseTo(slope, 10);
  });

  test("refuses what it did not see", () => {
    expect(predictFinding(calibration, { test: -9 })).toMatchObject({ kind: "undefined" });
    const predicted = predictFinding(calibration, { test: -2 });
    if (predicted.kind === "undefined") throw new Error(predicted.reason);
    expect(predicted.value).toBeCloseTo(
      calibration.intercept.value - 2 * calibration.slope.value,
      12,
    );
    expect(predicted.low).toBeLessThan(predicted.value);
    expect(predicted.high).toBeGreaterThan(predicted.value);
    expect(predicted.range.from).toBeLessThanOrEqual(-2);
    expect(predicted.range.to).toBeGreaterThan(-2);
    const withAge = calibrateReading({
      test: reading,
      reference,
      subjects,
      ageYears: reading.map((_, i) => 4 + (i % 9)),
    });
    expect(() => predictFinding(withAge, { test: -2 })).toThrow("requires ageYears");
    expect(predictFinding(withAge, { test: -2, ageYears: 2 }).kind).toBe("undefined");
  });
});

describe("axisAgreement", () => {
  test("axes fold to 0 to 90: 175 and 5 differ by 10", () => {
    expect(foldedAxisDifference(175, 5)).toBe(10);
    expect(foldedAxisDifference(0, 180)).toBe(0);
    expect(foldedAxisDifference(10, 100)).toBe(90);
  });

  test("only beyond the stated cylinder", () => {
    const test = [
      { cylinder: -1, axis: 175 },
      { cylinder: -0.5, axis: 90 },
      { cylinder: -2, axis: 20 },
      { cylinder: 0, axis: null },
    ];
    const reference = [
      { cylinder: -1.25, axis: 5 },
      { cylinder: -2, axis: 10 },
      { cylinder: -2, axis: 22 },
      { cylinder: 0, axis: null },
    ];
    const r = axisAgreement({ test, reference });
    expect(r.axisRows).toBe(2);
    expect(r.axisDifference).toEqual({ median: 6, ninetyFifth: 9.6 });
    expect(r.within.map(({ share }) => share.value)).toEqual([0.5, 1, 1]);
    expect(r.cylinder.bias.value).toBeCloseTo((0.25 + 1.5) / 4, 12);
    expect(r.note).toContain("vectorAgreement");
  });
});

test("shares within 0.25, 0.50 and 1.00 D widen where two eyes say the same", () => {
  const { test: reading, reference, subjects } = equivalents("autoref_pre", "both");
  const plain = withinDifference({ test: reading, reference }).shares;
  const clustered = withinDifference({ test: reading, reference, subjects }).shares;
  expect(clustered.map(({ acceptable }) => acceptable)).toEqual([0.25, 0.5, 1]);
  clustered.forEach(({ within }, index) => {
    const count = reading.filter(
      (value, row) => Math.abs(value - reference[row]) <= [0.25, 0.5, 1][index],
    ).length;
    expect(within.value).toBeCloseTo(count / 1117, 12);
    const [wide, narrow] = [known(within), known(plain[index].within)];
    expect(wide.high - wide.low).toBeGreaterThan(narrow.high - narrow.low);
  });
});

test("withinDifference counts an equal difference as within, to either side", () => {
  // 1.3 - 1 is just above 0.3 in binary, 0.7 - 1 just below -0.3
  const pairs = { test: [1.3, 0.7, 1.31, 0.69, 1], reference: [1, 1, 1, 1, 1] };
  const [{ within }] = withinDifference(pairs, { acceptable: [0.3] }).shares;
  expect(within).toMatchObject({ value: 3 / 5 });
  const [quarter] = withinDifference(
    { test: [0.25, -0.25, 0.5], reference: [0, 0, 0] },
    { acceptable: [0.25] },
  ).shares;
  expect(quarter.within).toMatchObject({ value: 2 / 3 });
});

test("tolerance region: R 4.2 simulation, 2 components, n 30: 9.842 (Monte Carlo error .065)", () => {
  const { squaredRadius, monteCarloError } = toleranceSquaredRadius(
    { n: 30, dimensions: 2, content: 0.95, confidence: 0.95 },
    { replicates: 800, seed: 3 },
  );
  // Three errors of the difference, their own besides ours.
  expect(Math.abs(squaredRadius - 9.842)).toBeLessThan(3 * Math.hypot(monteCarloError, 0.065));
  expect(monteCarloError).toBeLessThan(0.4);
});

test("equal groups of one spread: Brown and Forsythe's test is the analysis of variance", () => {
  // four groups of five, each its mean and the same deviations
  const deviations = [-1.5, -0.5, 0, 0.4, 1.6];
  const means = [0.2, 1, 0.4, 2];
  const groups = means.map((mean, at) => ({
    group: `${at}`,
    values: deviations.map((one) => mean + one),
  }));
  const found = brownForsythe(groups);
  if (found.kind === "undefined") throw new Error(found.reason);
  const grand = means.reduce((sum, one) => sum + one, 0) / 4;
  const between = (5 * means.reduce((sum, one) => sum + (one - grand) ** 2, 0)) / 3;
  const within = deviations.reduce((sum, one) => sum + one ** 2, 0) / 4;
  expect(found.f).toBeCloseTo(between / within, 12);
  expect(found.df[0]).toBeCloseTo(3, 12);
  expect(found.df[1]).toBeCloseTo(16, 12);
  expect(found.children).toEqual([5, 5, 5, 5]);
});
