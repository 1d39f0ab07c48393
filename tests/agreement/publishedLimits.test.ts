import { describe, expect, test } from "vitest";
import {
  limitsOfAgreement,
  nonparametricLimits,
  ratioLimits,
  regressionLimits,
  withinDifference,
} from "../../src/agreement/index.js";
import { known } from "../known.js";
import { bloodPressure, cardiacOutput, milkFat, plasmaVolume } from "./blandAltman1999.js";

// Bland and Altman 1999 (Stat Methods Med Res 8:135-160) and 2007 (J Biopharm Stat 17:571-582);
// printed values as quoted in tutorials, "value from memory" where said.

const first = (rows: number[][]) => rows.map(([value]) => value);

/** One row for each repeat: subject, observer, machine. */
const repeated = {
  test: bloodPressure.observer.flat(),
  reference: bloodPressure.machine.flat(),
  units: bloodPressure.observer.flatMap((row, subject) => row.map(() => subject)),
};

describe("1999, one reading each (observer minus machine)", () => {
  const r = limitsOfAgreement(
    { test: first(bloodPressure.observer), reference: first(bloodPressure.machine) },
    { interval: "approximate" },
  );

  test("bias -16.29, SD 19.61, limits -54.7 and 22.1", () => {
    expect(r.bias.value).toBeCloseTo(-16.29, 2);
    expect(r.sd.value).toBeCloseTo(19.61, 2);
    expect(r.lower.value).toBeCloseTo(-54.7, 1);
    expect(r.upper.value).toBeCloseTo(22.1, 1);
    expect([r.bias.low, r.bias.high].map(oneDecimal)).toEqual([-20.5, -12.1]);
  });

  test("intervals -61.9 to -47.5 and 14.9 to 29.3 (the paper works from rounded numbers: 0.1)", () => {
    const seen = [r.lower.low, r.lower.high, r.upper.low, r.upper.high];
    [-61.9, -47.5, 14.9, 29.3].forEach((printed, index) => {
      expect(Math.abs(seen[index] - printed)).toBeLessThan(0.1);
    });
  });

  test("without subjects 78 and 80: limits -43.6 and 15.0 (the printed mean -14.9 is the SD)", () => {
    const keep = (_row: unknown, index: number) => index !== 77 && index !== 79;
    const kept = limitsOfAgreement({
      test: first(bloodPressure.observer.filter(keep)),
      reference: first(bloodPressure.machine.filter(keep)),
    });
    expect(kept.lower.value).toBeCloseTo(-43.6, 1);
    expect(kept.upper.value).toBeCloseTo(15.0, 1);
    expect(kept.bias.value).toBeCloseTo(-14.31, 2);
    expect(kept.sd.value).toBeCloseTo(14.9, 1);
  });
});

describe("1999, repeats", () => {
  test("equal numbers: 37.408, 83.141, bias -15.62, SD 20.95, limits -56.68 and 25.44", () => {
    const r = limitsOfAgreement(repeated, { interval: "approximate" });
    expect(r.design).toBe("repeats");
    expect(r.components.testRepeats).toBeCloseTo(37.408, 3);
    expect(r.components.referenceRepeats).toBeCloseTo(83.141, 3);
    expect(r.bias.value).toBeCloseTo(-15.62, 2);
    expect(r.sd.value).toBeCloseTo(20.95, 2);
    expect(r.lower.value).toBeCloseTo(-56.68, 2);
    expect(r.upper.value).toBeCloseTo(25.44, 2);
    // Printed -63.5, -49.9, 18.70 and 32.2; 18.70 is the paper's rounding of 18.66.
    expect([r.lower.low, r.lower.high, r.upper.high].map(oneDecimal)).toEqual([-63.5, -49.9, 32.2]);
    expect(Math.abs(r.upper.low - 18.7)).toBeLessThan(0.05);
  });

  test("unequal numbers: 0.1072, 0.1379, bias 0.7092, SD 1.0517 (their data give 1.0519)", () => {
    const r = limitsOfAgreement({
      test: cardiacOutput.first,
      reference: cardiacOutput.second,
      units: cardiacOutput.subject,
    });
    expect(r.components.testRepeats).toBeCloseTo(0.1072, 4);
    expect(r.components.referenceRepeats).toBeCloseTo(0.1379, 4);
    expect(r.bias.value).toBeCloseTo(0.7092, 4);
    expect(Math.abs(r.sd.value - 1.0517)).toBeLessThan(5e-4);
    expect(Math.abs(r.lower.value - -1.3521)).toBeLessThan(5e-4);
    expect(Math.abs(r.upper.value - 2.7705)).toBeLessThan(5e-4);
    expect(r.interval).toBe("mover");
  });

  test("2007, the true value varies: 0.6021667, 0.99062408, -1.3394565, 2.5437899", () => {
    const r = limitsOfAgreement(
      {
        test: cardiacOutput.first,
        reference: cardiacOutput.second,
        subjects: cardiacOutput.subject,
      },
      { multiplier: 1.96 },
    );
    expect(r.design).toBe("clustered");
    expect(r.bias.value).toBeCloseTo(0.6021667, 7);
    expect(r.sd.value).toBeCloseTo(0.99062408, 6);
    expect(r.lower.value).toBeCloseTo(-1.3394565, 6);
    expect(r.upper.value).toBeCloseTo(2.5437899, 6);
    // R 4.2, one-way analysis of variance of the same pairs.
    expect(r.components.betweenSubjects).toBeCloseTo(0.810622130347729, 9);
    expect(r.components.withinSubjects).toBeCloseTo(0.170713993055556, 9);
  });

  test("limits for the mean of 3 readings of the observer are closer", () => {
    const one = limitsOfAgreement(repeated);
    const three = limitsOfAgreement(repeated, { readings: 3 });
    // By definition: the observer's repeat variance falls to a third.
    const variance = one.sd.value ** 2 - (37.4078431372549 * 2) / 3;
    expect(three.sd.value ** 2).toBeCloseTo(variance, 6);
  });
});

test("1999, logarithms: 0.099, 0.056, 0.141; ratios 1.06 and 1.15 (1.104 is printed as 1.11)", () => {
  const r = ratioLimits(
    { test: plasmaVolume.first, reference: plasmaVolume.second },
    { interval: "approximate" },
  );
  expect(r.log.bias.value).toBeCloseTo(0.099, 3);
  expect(r.log.lower.value).toBeCloseTo(0.056, 3);
  expect(r.log.upper.value).toBeCloseTo(0.141, 3);
  expect(r.log.lower.low).toBeCloseTo(0.049, 3);
  expect(r.log.lower.high).toBeCloseTo(0.064, 3);
  expect(r.lower.value).toBeCloseTo(1.06, 2);
  expect(r.upper.value).toBeCloseTo(1.15, 2);
  expect(r.ratio.value).toBeCloseTo(1.10395571645796, 10);
});

test("ratios are refused where a value is not positive", () => {
  expect(() => ratioLimits({ test: [1, 2, -1], reference: [1, 2, 1] })).toThrow(
    "ratioLimits requires positive values, got -1 in test at row 2",
  );
});

describe("1999, regression (fat in milk)", () => {
  const data = { test: milkFat.enzymatic, reference: milkFat.gerber };
  const r = regressionLimits(data);

  test("0.079 - 0.0283 A, and the line of absolute residuals (R 4.2: lm(abs(residuals) ~ A))", () => {
    expect(r.intercept.value).toBeCloseTo(0.079, 3);
    expect(r.slope.value).toBeCloseTo(-0.0283, 4);
    // R's limits with 2.46 in place of quantiles: lower -0.0359086347500739 - 0.0409793768161433 A,
    // upper slope -0.0155625723349542.
    const { spreadIntercept, spreadSlope, intercept, slope } = r;
    expect(intercept.value - 2.46 * spreadIntercept.value).toBeCloseTo(-0.0359086347500739, 9);
    expect(slope.value - 2.46 * spreadSlope.value).toBeCloseTo(-0.0409793768161433, 9);
    expect(slope.value + 2.46 * spreadSlope.value).toBeCloseTo(-0.0155625723349542, 9);
  });

  test("limits at a point lie on their lines; 45 children reach one end of each limit, and no band", () => {
    const [point] = regressionLimits(data, { at: [3] }).points;
    if (point.lower.kind === "undefined") throw new Error(point.lower.reason);
    expect(point.lower.value).toBeCloseTo(r.lower.intercept + 3 * r.lower.slope, 10);
    expect(point.lower).toMatchObject({ kind: "one-sided", low: null, level: 0.975 });
    expect(point.upper).toMatchObject({ kind: "one-sided", high: null, level: 0.975 });
    expect(r.band).toMatchObject({ reason: expect.stringContaining("45 children") });
  });
});

describe("1999, percentiles and shares (R 4.2, type 7, of the blood-pressure differences)", () => {
  const data = { test: first(bloodPressure.observer), reference: first(bloodPressure.machine) };

  test("2.5th -63.4 and 97.5th 13.5; of 85 rows the outer ends are not reached", () => {
    const r = nonparametricLimits(data);
    expect(r.percentiles.lower).toBeCloseTo(-63.4, 10);
    expect(r.percentiles.upper).toBeCloseTo(13.5, 10);
    // qbinom(.975, 85, .025) + 1 = 6: the sixth lowest difference (R 4.2).
    const sixth = data.test.map((x, row) => x - data.reference[row]).sort((a, b) => a - b)[5];
    expect(r.lower).toMatchObject({ kind: "one-sided", low: null, high: sixth, level: 0.975 });
    expect(r.median.kind).toBe("estimate");
  });

  test("31 of 85 within 10 mmHg, 42 within 15", () => {
    const { shares } = withinDifference(data, { acceptable: [10, 15] });
    expect(shares.map(({ within }) => Math.round(known(within).value * 85))).toEqual([31, 42]);
  });
});

function oneDecimal(value: number): number {
  return Math.round(value * 10) / 10;
}
