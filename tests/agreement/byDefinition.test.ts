import { mean, sampleStandardDeviation } from "simple-statistics";
import { describe, expect, it } from "vitest";
import {
  axisAgreement,
  biasBy,
  concordanceCorrelation,
  demingRegression,
  differenceRegression,
  greyZone,
  limitsOfAgreement,
  repeatability,
  weightedLimits,
} from "../../src/agreement/index.js";
import { createRandom } from "../../src/inference/index.js";
import type { Estimate, Undefined } from "../../src/results/index.js";

const known = (estimate: Estimate | Undefined): Estimate => {
  if (estimate.kind === "undefined") throw new Error(estimate.reason);
  return estimate;
};

/** Two columns, a child of two rows each, in sites of several children. */
function invented(children: number, seed = 5) {
  const random = createRandom(seed);
  const rows = Array.from({ length: 2 * children }, (_, row) => {
    const child = row >> 1;
    const reference = 2 * random.normal();
    return {
      reference,
      test: 0.3 + 0.9 * reference + 0.5 * random.normal(),
      subject: `child ${child}`,
      site: `site ${child % 5}`,
      age: 36 + 6 * (child % 7),
    };
  });
  const column = <Key extends keyof (typeof rows)[number]>(key: Key) => rows.map((row) => row[key]);
  return {
    test: column("test"),
    reference: column("reference"),
    subjects: column("subject"),
    sites: column("site"),
    ages: column("age"),
  };
}

describe("limits of agreement", () => {
  it("the SD's interval divides by chi-square quantiles (table of chi-square, 16 df: 6.9077 and 28.8454)", () => {
    // differences of an SD of 1: 17 rows of +-a
    const a = Math.sqrt(16 / 16);
    const test = Array.from({ length: 17 }, (_, row) => (row === 16 ? 0 : row % 2 === 0 ? a : -a));
    const { sd } = limitsOfAgreement({ test, reference: test.map(() => 0) });
    expect(sampleStandardDeviation(test)).toBeCloseTo(1, 12);
    expect(known(sd).low).toBeCloseTo(Math.sqrt(16 / 28.8454), 4);
    expect(known(sd).high).toBeCloseTo(Math.sqrt(16 / 6.9077), 4);
  });

  it("by bootstrap are mirrored when the two columns change places", () => {
    const { test, reference, subjects } = invented(40);
    const options = {
      interval: "bootstrap",
      seed: 3,
      replicates: 60,
      conditional: "skip",
    } as const;
    const one = limitsOfAgreement({ test, reference, subjects }, options);
    const other = limitsOfAgreement({ test: reference, reference: test, subjects }, options);
    expect(known(other.lower).low).toBeCloseTo(-known(one.upper).high, 10);
    expect(known(other.lower).high).toBeCloseTo(-known(one.upper).low, 10);
    expect(known(other.upper).low).toBeCloseTo(-known(one.lower).high, 10);
    expect(known(one.upper).low).toBeLessThan(known(one.upper).value);
    expect(known(one.upper).high).toBeGreaterThan(known(one.upper).value);
  });

  it("by recovered variances of repeats are estimates with finite limits on either side", () => {
    const { test, reference, subjects } = invented(30);
    const { lower, upper } = limitsOfAgreement(
      { test, reference, subjects },
      { conditional: "skip" },
    );
    for (const limit of [lower, upper]) {
      expect(limit.kind).toBe("estimate");
      expect(known(limit).low).toBeLessThan(known(limit).value);
      expect(known(limit).high).toBeGreaterThan(known(limit).value);
    }
  });

  it("warn of an artefact only where the trend is on one of the two methods", () => {
    const { test, reference } = invented(20);
    const artefact = (trend: "mean" | "test" | "reference") =>
      limitsOfAgreement({ test, reference }, { trend, conditional: "skip" }).notes.some((note) =>
        note.includes("is partly artefact"),
      );
    expect([artefact("mean"), artefact("reference"), artefact("test")]).toEqual([
      false,
      true,
      true,
    ]);
  });
});

describe("weighted limits", () => {
  const data = {
    test: [1, 2, 3, 4],
    reference: [0, 2, 2, 5],
    examination: { examined: [1, 1, 1, 0], strata: ["a", "a", "a", "a"] },
  };

  it("need three examined children and two replicates", () => {
    const two = { ...data, examination: { ...data.examination, examined: [1, 1, 0, 0] } };
    expect(() => weightedLimits(two, { seed: 1 })).toThrow(
      "weightedLimits requires at least 3 examined subjects, got 2",
    );
    expect(() => weightedLimits(data, { seed: 1, replicates: 1 })).toThrow(
      "weightedLimits requires replicates as a whole number of at least 2, got 1",
    );
    expect(weightedLimits(data, { seed: 1, replicates: 2 }).kind).toBe("weighted-limits");
  });

  it("keep the level that is asked for", () => {
    const { test, reference, subjects } = invented(20);
    const weights = test.map(() => 1);
    const at = (level?: number) => {
      return known(weightedLimits({ test, reference, subjects, weights }, { level }).bias);
    };
    expect(at(0.8).level).toBe(0.8);
    expect(at(0.8).high).toBeLessThan(at(0.95).high);
    expect(at().high).toBe(at(0.95).high);
  });
});

describe("bias by groups", () => {
  const test = Array.from({ length: 12 }, (_, row) => row / 4);
  const reference = test.map((value, row) => value - 0.1 * (row % 3));
  const by = test.map((_, row) => row);

  it("names the bands between ascending breaks", () => {
    const { groups: bands } = biasBy({ test, reference, by }, { label: "age", breaks: [3, 6, 9] });
    expect(bands.map(({ group, n }) => [group, n])).toEqual([
      ["below 3", 3],
      ["3 to below 6", 3],
      ["6 to below 9", 3],
      ["9 and over", 3],
    ]);
  });

  it.each([[[]], [[6, 3]], [[3, 3]]])("refuses breaks %j", (breaks) => {
    expect(() => biasBy({ test, reference, by }, { label: "age", breaks })).toThrow(
      `biasBy requires ascending breaks, got ${breaks.join(", ")}`,
    );
  });
});

describe("regression of the difference", () => {
  it("takes the intercept at covariates of 0, with the variance of any other origin", () => {
    const { test, reference, ages } = invented(30);
    const at = (shift: number) =>
      differenceRegression({
        test,
        reference,
        covariates: { age: ages.map((age) => age - shift) },
      });
    // the line at an age of 48 is the intercept where ages count from 48
    const [intercept, slope] = at(0).coefficients.map(({ estimate }) => known(estimate));
    const [atFour, same] = at(48).coefficients.map(({ estimate }) => known(estimate));
    expect(atFour.value).toBeCloseTo(intercept.value + 48 * slope.value, 10);
    expect(same.se).toBeCloseTo(slope.se!, 10);
    // three points of a quadratic give the variance at a fourth: var(b0 + x b1) is quadratic in x
    const variance = (x: number) => known(at(x).coefficients[0].estimate).se! ** 2;
    const lagrange = variance(0) - 3 * variance(24) + 3 * variance(48);
    expect(variance(72)).toBeCloseTo(lagrange, 8);
  });

  it("leaves out one site after the other", () => {
    const { test, reference, ages, subjects, sites } = invented(30);
    const of = (rows: readonly number[]) =>
      differenceRegression({
        test: rows.map((row) => test[row]),
        reference: rows.map((row) => reference[row]),
        covariates: { age: rows.map((row) => ages[row]) },
      }).coefficients.map(({ estimate }) => estimate.value!);
    const all = [...test.keys()];
    const whole = of(all);
    const without = [...new Set(sites)].map((site) => of(all.filter((row) => sites[row] !== site)));
    const found = differenceRegression({
      test,
      reference,
      covariates: { age: ages },
      clusters: { subject: subjects, site: sites },
    } as never).coefficients.map(({ estimate }) => known(estimate));
    for (const [index, estimate] of found.entries()) {
      expect(estimate.value).toBeCloseTo(whole[index], 12);
      // five sites of equal size: the variance of a jackknife, by definition
      const squares = without.map((one) => (one[index] - whole[index]) ** 2);
      const se = Math.sqrt((4 / 5) * squares.reduce((sum, one) => sum + one, 0));
      expect(estimate.se! / se).toBeGreaterThan(0.95);
      expect(estimate.se! / se).toBeLessThan(1.3);
    }
  });

  it("has no line where one row left out leaves none", () => {
    const { slope, intercept } = demingRegression(
      { test: [1, 1, 1, 2], reference: [3, 3, 3, 4] },
      { errorRatio: 1 },
    );
    expect([slope, intercept].map((one) => one.kind)).toEqual(["undefined", "undefined"]);
  });
});

describe("repeatability", () => {
  it("the slope of the within-eye SD on the mean is that of least squares over eyes", () => {
    const values = [1, 1.2, 2, 2.5, 3, 3.9, 5, 5.4, 7, 8.4];
    const units = values.map((_, row) => `eye ${row >> 1}`);
    const eyes = [0, 1, 2, 3, 4].map((eye) => [values[2 * eye], values[2 * eye + 1]]);
    const x = eyes.map(mean);
    const y = eyes.map(sampleStandardDeviation);
    const [mx, my] = [mean(x), mean(y)];
    const slope =
      x.reduce((sum, one, at) => sum + (one - mx) * (y[at] - my), 0) /
      x.reduce((sum, one) => sum + (one - mx) ** 2, 0);
    expect(JSON.stringify(repeatability({ values, units }))).toContain(String(slope).slice(0, 10));
  });
});

describe("what is refused or left out, in words", () => {
  it("names the function", () => {
    const few = { test: [1, 2, 3, 4], reference: [1, 2, 4, 4], subjects: ["a", "b", "c", "c"] };
    expect(() => concordanceCorrelation(few)).toThrow(
      "concordanceCorrelation requires at least 4 subjects, got 3",
    );
    expect(() => greyZone({ test: [1], reference: [2] }, { limit: 2 } as never)).toThrow(
      /^greyZone/,
    );
  });

  it("says that concordance rests on one subject", () => {
    const { estimate } = concordanceCorrelation({
      test: [1, 1, 1, 1, 1, 1, 1, 2],
      reference: [1, 1, 1, 1, 1, 1, 1, 3],
      subjects: ["a", "a", "b", "b", "c", "c", "d", "d"],
    });
    expect(estimate).toMatchObject({
      kind: "undefined",
      reason: "without one of the subjects test or reference does not vary",
    });
  });

  it("the cylinder's limits come without conditional ones", () => {
    const eye = (row: number) => ({ cylinder: -0.5 - (row % 5) / 4, axis: 5 + (row % 170) });
    const test = Array.from({ length: 120 }, (_, row) => eye(row));
    const reference = test.map((_, row) => eye(row + 1));
    const { cylinder } = axisAgreement({ test, reference });
    expect(cylinder.conditional.kind).toBe("undefined");
  });
});
