import { readFileSync, writeFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { surveyLimits } from "../../src/agreement/index.js";
import { normalCdf, surveyMean, surveyShare } from "../../src/inference/index.js";
import { coverSurveys, type SurveyCoverage, surveyDesigns } from "../coverage/inference/survey.js";

// One-stage cluster sample of Lohr, Sampling: Design and Analysis, example of five dormitory suites of
// four students (grades, mean 2.826, SE 0.164 with the finite population factor 1 - 5/100); table and
// results from memory.
const suites = [
  [3.08, 2.6, 3.44, 3.04],
  [2.36, 3.04, 3.28, 2.68],
  [2.0, 2.56, 2.52, 1.88],
  [3.0, 2.88, 3.44, 3.64],
  [2.68, 1.92, 3.28, 3.2],
];

test("five suites of four students: mean 2.826, standard error 0.164", () => {
  const result = surveyMean({
    values: suites.flat(),
    weights: suites.flat().map(() => 20),
    units: suites.flatMap((suite, at) => suite.map(() => at)),
  });
  expect(result).toMatchObject({ n: 20, weight: 400, strata: 1, units: 5, df: 4 });
  expect(result.estimate.value).toBeCloseTo(2.826, 10);
  expect((result.estimate.se ?? 0) * Math.sqrt(1 - 5 / 100)).toBeCloseTo(0.164, 3);
});

/*
 * The survey of data/survey (public, its README names the source), 12 to 19 years, both eyes: R 4.2.2, base
 * only. d <- read.csv("data/survey/refraction_2003_2004.csv"); M <- d$od_ar_sph + d$od_ar_cyl / 2; N the left
 * eye's; inn <- !is.na(M) & !is.na(N) & d$age_years >= 12 & d$age_years < 20 & d$wt_mec_2yr > 0
 * se <- function(z) { z[!inn] <- 0; u <- tapply(d$wt_mec_2yr * z, list(d$stratum, d$psu), sum)
 *   sqrt(sum(apply(u, 1, function(t) { t <- t[!is.na(t)]; k <- length(t); k / (k - 1) * sum((t - mean(t))^2) }))) }
 * m, share M <= -0.5 and limits of M - N by their definitions, se((M - m) / W), ..., t quantile of 15
 */
describe("a survey of 15 strata with two units each", () => {
  const [header, ...lines] = readFileSync("data/survey/refraction_2003_2004.csv", "utf8")
    .trim()
    .split("\n")
    .map((line) => line.split(","));
  const number = (name: string) => {
    const at = header!.indexOf(name);
    return lines.map((line) => (line[at] === "" ? Number.NaN : Number(line[at])));
  };
  const equivalent = (eye: string) => {
    const cylinder = number(`${eye}_ar_cyl`);
    return number(`${eye}_ar_sph`).map((sphere, row) => sphere + cylinder[row]! / 2);
  };
  const [right, left, age] = [equivalent("od"), equivalent("os"), number("age_years")];
  const design = {
    weights: number("wt_mec_2yr"),
    strata: number("stratum"),
    units: number("psu"),
    domain: right.map(
      (M, row) => !Number.isNaN(M + left[row]!) && age[row]! >= 12 && age[row]! < 20,
    ),
  };

  test("mean with its interval", () => {
    const result = surveyMean({ ...design, values: right });
    expect(result).toMatchObject({ n: 2153, strata: 15, units: 30, df: 15 });
    expect(result.weight).toBeCloseTo(31856137.6714, 3);
    const { value, se, low, high } = result.estimate;
    expect(value).toBeCloseTo(-0.8820931511304, 11);
    expect(se).toBeCloseTo(0.0609568745001, 11);
    expect([low, high]).toEqual([
      expect.closeTo(-1.0120196535825, 10),
      expect.closeTo(-0.7521666486783, 10),
    ]);
    expect(result.designEffect).toBeGreaterThan(1);
  });

  test("share with its interval on the logit scale", () => {
    const { estimate } = surveyShare({ ...design, condition: right.map((M) => M <= -0.5) });
    expect([estimate.value, estimate.se, estimate.low, estimate.high]).toEqual([
      expect.closeTo(0.4238593279082, 11),
      expect.closeTo(0.0206503445999, 11),
      expect.closeTo(0.3805556132441, 10),
      expect.closeTo(0.4683648516788, 10),
    ]);
  });

  test("limits of agreement of right and left", () => {
    const { bias, sd, lower } = surveyLimits({ ...design, test: right, reference: left });
    expect([bias.value, bias.se, sd.value, sd.se]).toEqual([
      expect.closeTo(-0.0138642452898, 11),
      expect.closeTo(0.0170839998162, 11),
      expect.closeTo(0.6411546805336, 11),
      expect.closeTo(0.0729405553683, 11),
    ]);
    expect([lower.value, lower.se, lower.low, lower.high]).toEqual([
      expect.closeTo(-1.2705043276549, 10),
      expect.closeTo(0.1397084643835, 10),
      expect.closeTo(-1.5682858705761, 9),
      expect.closeTo(-0.9727227847338, 9),
    ]);
  });
});

describe("laws", () => {
  const row = fc.record({
    value: fc.integer({ min: -20, max: 20 }),
    weight: fc.integer({ min: 1, max: 9 }),
    unit: fc.integer({ min: 0, max: 3 }),
  });
  const table = fc.array(row, { minLength: 8, maxLength: 30 });
  const columns = (rows: readonly { value: number; weight: number; unit: number }[]) => ({
    values: rows.map(({ value }) => value),
    weights: rows.map(({ weight }) => weight),
    units: rows.map(({ unit }) => unit),
    strata: rows.map(({ unit }) => Math.floor(unit / 2)),
  });

  test("order, the scale of weights and a shift of values change nothing else", () => {
    fc.assert(
      fc.property(table, (rows) => {
        const whole = surveyMean(columns(rows)).estimate;
        const turned = surveyMean(columns([...rows].reverse())).estimate;
        const heavier = { ...columns(rows), weights: rows.map(({ weight }) => 7 * weight) };
        const moved = { ...columns(rows), values: rows.map(({ value }) => value + 5) };
        if (whole.kind === "undefined") {
          expect(turned.kind).toBe("undefined");
          return;
        }
        for (const [other, shift] of [
          [turned, 0],
          [surveyMean(heavier).estimate, 0],
          [surveyMean(moved).estimate, 5],
        ] as const) {
          expect(other.value).toBeCloseTo(whole.value + shift, 9);
          expect(other.low).toBeCloseTo(whole.low + shift, 7);
        }
      }),
    );
  });

  test("with weights of one and rows as units it is the mean by Student's t", () => {
    const values = [1, 2, 4, 7, 11];
    const { estimate } = surveyMean({ values, weights: values.map(() => 1) });
    // R 4.2.2: t.test(c(1, 2, 4, 7, 11))$conf.int
    expect([estimate.value, estimate.low, estimate.high]).toEqual([
      expect.closeTo(5, 12),
      expect.closeTo(-0.0436630035306, 11),
      expect.closeTo(10.0436630035306, 11),
    ]);
  });

  test("a domain is not a shorter table: units without its rows count", () => {
    const values = [1, 2, 3, 4, 50, 60];
    const design = { values, weights: values.map(() => 1), units: [1, 1, 2, 2, 3, 3] };
    const part = surveyMean({ ...design, domain: [1, 1, 1, 1, 0, 0] });
    expect(part).toMatchObject({ n: 4, units: 3, df: 2 });
    expect(part.estimate.value).toBe(2.5);
    // by hand: totals of (value - 2.5) / 4 are -0.5, 0.5 and 0
    expect(part.estimate.se).toBeCloseTo(Math.sqrt((3 / 2) * (0.5 ** 2 + 0.5 ** 2)), 12);
  });
});

test("what cannot be estimated says why; faulty columns are refused", () => {
  const lone = surveyMean({ values: [1, 2, 3], weights: [1, 1, 1], strata: ["a", "a", "b"] });
  expect(lone.estimate).toMatchObject({
    kind: "undefined",
    reason: expect.stringContaining("the stratum b has one sampling unit"),
  });
  const none = surveyShare({ condition: [0, 0, 0], weights: [1, 2, 3] }).estimate;
  expect(none).toMatchObject({ kind: "undefined", reason: "a share of 0 has no logit interval" });
  const empty = surveyMean({ values: [Number.NaN, 1], weights: [1, 1], domain: [0, 0] });
  expect(empty.estimate.kind).toBe("undefined");
  expect(() => surveyMean({ values: [1, 2], weights: [1, -1] })).toThrow(
    "requires weights of 0 or more, got -1 in row 1",
  );
  expect(() => surveyMean({ values: [1, Number.NaN], weights: [1, 1] })).toThrow("finite numbers");
  expect(() => surveyMean({ values: [1, 2, 3], weights: [1, 1] })).toThrow("one length");
  const same = surveyLimits({ test: [1, 2, 3], reference: [1, 2, 3], weights: [1, 1, 1] });
  expect(same.bias).toMatchObject({ kind: "undefined", reason: "the differences do not vary" });
});

// Invented surveys. The long study writes tests/coverage/inference/survey.json:
//   COVERAGE_STUDY=long npx vitest run tests/inference/surveyEstimate.test.ts
describe("intervals hold as often as they say", () => {
  const file = new URL("../coverage/inference/survey.json", import.meta.url);
  const surveys = 6000;
  if (process.env.COVERAGE_STUDY === "long") {
    const rows = surveyDesigns.map((design) => coverSurveys(design, surveys, 23, normalCdf));
    writeFileSync(file, `[\n${rows.map((row) => `  ${JSON.stringify(row)}`).join(",\n")}\n]\n`);
  }
  const committed = JSON.parse(readFileSync(file, "utf8")) as SurveyCoverage[];

  test("committed: .945 to .955, a share of strata with two units .93, errors on both sides", () => {
    expect(committed.length).toBe(surveyDesigns.length);
    for (const row of committed) {
      expect(row.surveys).toBe(surveys);
      expect(Math.abs(row.mean - 0.95)).toBeLessThan(0.006);
      if (row.units > 2) expect(Math.abs(row.share - 0.95)).toBeLessThan(0.006);
      else expect(Math.abs(row.share - 0.93)).toBeLessThan(0.006);
      expect(Math.max(row.above, row.below)).toBeLessThan(0.037);
    }
  });

  test("again, in short", () => {
    const found = coverSurveys(surveyDesigns[0]!, 300, 5, normalCdf);
    // four Monte Carlo errors
    expect(Math.abs(found.mean - 0.95)).toBeLessThan(0.05);
    expect(Math.abs(found.share - 0.95)).toBeLessThan(0.05);
  });
});
