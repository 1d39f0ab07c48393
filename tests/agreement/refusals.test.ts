import { describe, expect, it } from "vitest";
import * as agreement from "../../src/agreement/index.js";

const {
  axisAgreement,
  biasBy,
  calibrateReading,
  concordanceCorrelation,
  demingRegression,
  differenceRegression,
  doubleAngleSummary,
  foldedDistribution,
  greyZone,
  intraclassCorrelation,
  limitsOfAgreement,
  nonparametricLimits,
  pairedTTest,
  passingBablok,
  ratioLimits,
  regressionLimits,
  repeatability,
  signedRankTest,
  surveyLimits,
  vectorAgreement,
  weightedLimits,
  withinDifference,
} = agreement;

const many = Array.from({ length: 12 }, (_, row) => row);
const test = many.map((row) => row + ((row * 7) % 5) / 4);
const reference = many.map((row) => 1.1 * row - ((row * 3) % 4) / 5);
const pairs = { test, reference };
const subjects = many.map((row) => row >> 1);
const clusters = { subject: subjects, site: many.map((row) => (row >> 1) % 2) };
const vector = { M: 1, J0: 0, J45: 0 };
type Pairs = typeof pairs & { subjects?: number[]; clusters?: typeof clusters };

/** Every function of paired columns, with the fewest rows that it takes. */
const ofPairs: Record<string, [least: number, call: (data: Pairs, level?: number) => unknown]> = {
  axisAgreement: [
    3,
    ({ test, reference, ...data }, level) => {
      const eyes = (list: number[]) =>
        Array.from(list, (one) => ({ cylinder: Number.isNaN(one) ? one : -1, axis: 5 }));
      return axisAgreement({ test: eyes(test), reference: eyes(reference), ...data }, { level });
    },
  ],
  biasBy: [1, (data, level) => biasBy(data, { label: "x", breaks: [3], level })],
  calibrateReading: [10, (data, level) => calibrateReading(data, { level, folds: 2 })],
  concordanceCorrelation: [4, (data, level) => concordanceCorrelation(data, { level })],
  demingRegression: [4, (data, level) => demingRegression(data, { errorRatio: 1, level })],
  differenceRegression: [
    3,
    (data, level) => differenceRegression({ ...data, covariates: { x: data.test } }, { level }),
  ],
  foldedDistribution: [1, (data) => foldedDistribution(data)],
  greyZone: [1, (data, level) => greyZone(data, { limit: 3, positiveWhen: "high", level })],
  limitsOfAgreement: [3, (data, level) => limitsOfAgreement(data, { level })],
  nonparametricLimits: [3, (data, level) => nonparametricLimits(data, { level })],
  pairedTTest: [2, (data, level) => pairedTTest(data, { level })],
  passingBablok: [4, (data, level) => passingBablok(data, { level })],
  regressionLimits: [4, (data, level) => regressionLimits(data, { level })],
  signedRankTest: [2, (data) => signedRankTest(data)],
  weightedLimits: [
    3,
    (data, level) => weightedLimits({ ...data, weights: data.test.map(() => 1) }, { level }),
  ],
  withinDifference: [2, (data, level) => withinDifference(data, { level })],
};

describe.each(Object.entries(ofPairs))("%s", (name, [least, call]) => {
  it("names itself, the column and the row", () => {
    const first = (count: number) => ({
      test: test.slice(0, count),
      reference: reference.slice(0, count),
    });
    expect(() => call({ test, reference: reference.slice(1) })).toThrow(
      new RegExp(`^${name} requires .*12, reference 11|^${name} requires x for each of`),
    );
    if (least > 1) {
      expect(() => call(first(least - 1))).toThrow(
        `${name} requires at least ${least} rows, got ${least - 1}`,
      );
    }
    const broken = { test, reference: reference.with(4, Number.NaN) };
    expect(() => call(broken)).toThrow(
      `${name} requires finite numbers in reference, got NaN in row 4`,
    );
    if (call.length > 1) {
      for (const level of [0, 1, Number.NaN]) {
        expect(() => call(pairs, level)).toThrow(
          `${name} requires a level between 0 and 1, got ${level}`,
        );
      }
    }
    expect(() => call(pairs)).not.toThrow();
    if (name !== "foldedDistribution") {
      expect(() => call({ ...pairs, subjects: subjects.slice(1) })).toThrow(
        new RegExp(`^${name} requires .*subject`),
      );
    }
  });
});

const few = { test: [1, 2, 3, 4], reference: [1, 2, 4, 4], subjects: ["a", "a", "b", "b"] };
const matrix = [
  [1, 2],
  [2, 4],
  [3, 3],
];
const limits = (data: object, options: object = {}) =>
  limitsOfAgreement({ ...pairs, ...data }, options);
const refusals: [says: string, call: () => unknown][] = [
  [
    'biasBy requires by as a column, "mean", "test" or "reference", got "half"',
    () => biasBy({ ...pairs, by: "half" as never }, { label: "x" }),
  ],
  [
    "biasBy requires breaks for a column of measurements, got 1.5",
    () => biasBy({ ...pairs, by: test.with(0, 1.5) }, { label: "x" }),
  ],
  [
    'biasBy requires numbers (NaN where missing) in by, with breaks, got "a" in row 0',
    () => biasBy({ ...pairs, by: test.map(() => "a") as never }, { label: "x", breaks: [1] }),
  ],
  [
    "calibrateReading requires at least 2 folds and 10 subjects, and no more folds than subjects, got 13 folds of 12",
    () => calibrateReading(pairs, { folds: 13 }),
  ],
  [
    "calibrateReading requires at least 2 folds and 10 subjects, and no more folds than subjects, got 1 folds of 12",
    () => calibrateReading(pairs, { folds: 1 }),
  ],
  [
    "calibrateReading requires at least 2 folds and 10 subjects, and no more folds than subjects, got 2.5 folds of 12",
    () => calibrateReading(pairs, { folds: 2.5 }),
  ],
  [
    "got 2 folds of 6",
    () => calibrateReading({ ...pairs, subjects: subjects as number[] }, { folds: 2 }),
  ],
  [
    "calibrateReading requires readings and ages that vary",
    () => calibrateReading({ ...pairs, test: test.map(() => 1) }),
  ],
  [
    "calibrateReading requires readings that vary in every fold, got a flat one",
    () =>
      calibrateReading({ ...pairs, test: test.map((_, row) => Number(row === 0)) }, { folds: 12 }),
  ],
  [
    "calibrateReading requires finite numbers in ageYears, got NaN in row 3",
    () => calibrateReading({ ...pairs, ageYears: test.with(3, Number.NaN) }),
  ],
  [
    "calibrateReading requires ascending breaks, got 3, 3",
    () => calibrateReading(pairs, { breaks: [3, 3] }),
  ],
  [
    "calibrateReading requires ascending breaks, got NaN",
    () => calibrateReading(pairs, { breaks: [Number.NaN] }),
  ],
  ["concordanceCorrelation requires at least 4 subjects, got 2", () => concordanceCorrelation(few)],
  [
    "demingRegression requires at least 4 subjects, got 2",
    () => demingRegression(few, { errorRatio: 1 }),
  ],
  ["regressionLimits requires at least 4 subjects, got 2", () => regressionLimits(few)],
  ["limitsOfAgreement requires at least 3 subjects, got 2", () => limitsOfAgreement(few)],
  [
    "weightedLimits requires at least 3 subjects, got 2",
    () => weightedLimits({ ...few, weights: [1, 1, 1, 1] }),
  ],
  ...[0, -1, Number.POSITIVE_INFINITY, undefined].map((errorRatio): [string, () => unknown] => [
    `demingRegression requires an errorRatio (error variance of test / of reference, from repeatability of each), got ${errorRatio}`,
    () => demingRegression(pairs, { errorRatio } as never),
  ]),
  [
    "differenceRegression requires at least one covariate, got none",
    () => differenceRegression({ ...pairs, covariates: {} }),
  ],
  [
    "differenceRegression requires age for each of 12 rows, got 2",
    () => differenceRegression({ ...pairs, covariates: { age: [1, 2] } }),
  ],
  [
    "differenceRegression requires finite numbers in age, got NaN in row 0",
    () => differenceRegression({ ...pairs, covariates: { age: test.with(0, Number.NaN) } }),
  ],
  [
    "differenceRegression requires covariates that are not collinear and more rows and subjects than covariates, got a, b",
    () => differenceRegression({ ...pairs, covariates: { a: test, b: test.map((x) => 2 * x) } }),
  ],
  [
    "doubleAngleSummary requires at least 5 rows, got 4",
    () => doubleAngleSummary({ vectors: [vector, vector, vector, vector] }),
  ],
  [
    "doubleAngleSummary requires at least 5 subjects, got 1",
    () => doubleAngleSummary({ vectors: many.map(() => vector), subjects: many.map(() => 1) }),
  ],
  [
    "doubleAngleSummary requires eyes for each of 12 rows, got 1",
    () => doubleAngleSummary({ vectors: many.map(() => vector), eyes: ["right"] }),
  ],
  [
    'doubleAngleSummary requires "right" or "left" eyes, got OD at row 0',
    () => doubleAngleSummary({ vectors: [vector], eyes: ["OD"] as never }),
  ],
  [
    "doubleAngleSummary requires finite J45, got NaN at row 0",
    () => doubleAngleSummary({ vectors: [{ M: 1, J0: 0, J45: Number.NaN }] }),
  ],
  [
    "vectorAgreement requires test and reference of one length, got 1 and 2",
    () => vectorAgreement({ test: [vector], reference: [vector, vector] }),
  ],
  [
    "foldedDistribution requires a positive step and at least 1 row apart, got 0 and 1",
    () => foldedDistribution(pairs, { step: 0 }),
  ],
  [
    "foldedDistribution requires a positive step and at least 1 row apart, got 0.125 and 0",
    () => foldedDistribution(pairs, { rowsApart: 0 }),
  ],
  ...(
    [
      [Number.NaN, 1, 0.5],
      [1, Number.NaN, 0.5],
      [1, 1, 0],
    ] as const
  ).map(([limit, referenceLimit, margin]): [string, () => unknown] => [
    `greyZone requires finite limits and a positive margin, got ${limit}, ${referenceLimit}, ${margin}`,
    () => greyZone(pairs, { limit, referenceLimit, margin, positiveWhen: "high" }),
  ]),
  [
    'greyZone requires positiveWhen: "high" or "low", got up',
    () => greyZone(pairs, { limit: 1, positiveWhen: "up" as never }),
  ],
  [
    "intraclassCorrelation requires at least 2 rows and columns, got 1 x 2",
    () => intraclassCorrelation([[1, 2]], { form: "ICC(1,1)" }),
  ],
  [
    "intraclassCorrelation requires at least 2 rows and columns, got 2 x 1",
    () => intraclassCorrelation([[1], [2]], { form: "ICC(1,1)" }),
  ],
  [
    "intraclassCorrelation requires at least 2 rows and columns, got 0 x 0",
    () => intraclassCorrelation([], { form: "ICC(1,1)" }),
  ],
  [
    "intraclassCorrelation requires finite numbers in list 1, got NaN in row 1",
    () => intraclassCorrelation(matrix.with(1, [1, Number.NaN]), { form: "ICC(1,1)" }),
  ],
  [
    "intraclassCorrelation requires columns of one length, got 3 list 2 for 2 rows",
    () => intraclassCorrelation(matrix.with(2, [1, 2, 3]), { form: "ICC(1,1)" }),
  ],
  ...["ICC(4,1)", "xICC(1,1)", "ICC(1,1)x", "ICC(1,2)"].map((form): [string, () => unknown] => [
    `intraclassCorrelation requires a form from "ICC(1,1)" to "ICC(3,k)", got ${form}`,
    () => intraclassCorrelation(matrix, { form: form as never }),
  ]),
  [
    'limitsOfAgreement requires leads "percentile" or "normal", got "bias"',
    () => limits({}, { leads: "bias" }),
  ],
  [
    "limitsOfAgreement requires coverage or multiplier, got both",
    () => limits({}, { coverage: 0.9, multiplier: 2 }),
  ],
  ...[0, 8, Number.NaN].map((multiplier): [string, () => unknown] => [
    `limitsOfAgreement requires a positive multiplier below 8, got ${multiplier}`,
    () => limits({}, { multiplier }),
  ]),
  ...[0, 1].map((coverage): [string, () => unknown] => [
    `limitsOfAgreement requires a coverage between 0 and 1, got ${coverage}`,
    () => limits({}, { coverage }),
  ]),
  [
    'limitsOfAgreement requires interval "exact", "mover", "bootstrap" or "approximate", got "wald"',
    () => limits({}, { interval: "wald" }),
  ],
  [
    'limitsOfAgreement requires independent rows for interval "exact", got subjects or units that repeat; use "mover", "bootstrap" or "approximate"',
    () => limits({ subjects }, { interval: "exact" }),
  ],
  [
    'limitsOfAgreement requires interval "exact" for limits "pair", got "mover"',
    () => limits({ subjects }, { intervalFor: "pair" }),
  ],
  [
    'limitsOfAgreement requires interval "site-jackknife" for each limit where clusters are given, got "mover"',
    () => limits({ clusters }, { interval: "mover" }),
  ],
  [
    'limitsOfAgreement requires interval "site-jackknife" for each limit where clusters are given, got limits "pair"',
    () => limits({ clusters }, { intervalFor: "pair" }),
  ],
  [
    "limitsOfAgreement requires more sites, got 1 sites that count as 1.0: fewer than 2 give no interval; give subjects in place of clusters, knowing that differences between sites are then left out",
    () => limits({ clusters: { subject: subjects, site: many.map(() => 1) } }),
  ],
  [
    "limitsOfAgreement requires units that repeat for the mean of 2 readings",
    () => limits({ subjects }, { readings: 2 }),
  ],
  [
    "limitsOfAgreement requires endOfRange for each of 12 rows, got 1",
    () => limits({ endOfRange: [1] }),
  ],
  [
    "limitsOfAgreement requires endOfRange of true and false or 1 and 0, got 2 in row 3",
    () => limits({ endOfRange: many.map((row) => (row === 3 ? 2 : 0)) }),
  ],
  [
    "passingBablok requires independent rows, got subjects or units that repeat; take one eye a child, or use demingRegression",
    () => passingBablok({ ...pairs, subjects }),
  ],
  [
    "ratioLimits requires positive values, got 0 in test at row 0",
    () => ratioLimits({ test: [0, 1, 2, 3], reference: [1, 1, 2, 3] }),
  ],
  [
    "ratioLimits requires positive values, got -2 in reference at row 2",
    () => ratioLimits({ test: [1, 1, 2, 3], reference: [1, 1, -2, 3] }),
  ],
  [
    "regressionLimits requires a mean that varies and differences off their line",
    () => regressionLimits({ test: [1, 2, 3, 4], reference: [4, 3, 2, 1] }),
  ],
  [
    "regressionLimits requires a reference that varies and differences off their line",
    () => regressionLimits({ test, reference: test.map(() => 1) }, { against: "reference" }),
  ],
  [
    "regressionLimits requires sites that count as 2 or more, got 1; give subjects in place of clusters, knowing that differences between sites are then left out",
    () => regressionLimits({ ...pairs, clusters: { subject: subjects, site: many.map(() => 1) } }),
  ],
  [
    "weightedLimits requires sites that count as 2 or more, got 1.0; give subjects in place of clusters, knowing that differences between sites are then left out",
    () =>
      weightedLimits({
        ...pairs,
        weights: many.map(() => 1),
        clusters: { subject: subjects, site: many.map(() => 1) },
      }),
  ],
  ["repeatability requires units, got none", () => repeatability({ values: test } as never)],
  [
    "repeatability requires finite numbers in values, got NaN in row 0",
    () => repeatability({ values: [Number.NaN, 1], units: [1, 1] }),
  ],
  [
    'repeatability requires independent units for interval "chi-square", got several units of one child or site; leave the interval out',
    () =>
      repeatability(
        { values: [1, 2, 4, 6], units: [1, 1, 2, 2], subjects: [1, 1, 1, 1] },
        { interval: "chi-square" },
      ),
  ],
  [
    "surveyLimits requires finite numbers in reference, got NaN in row 1",
    () =>
      surveyLimits({ ...pairs, reference: test.with(1, Number.NaN), weights: many.map(() => 1) }),
  ],
  [
    "surveyLimits requires a level between 0 and 1, got 2",
    () => surveyLimits({ ...pairs, weights: many.map(() => 1) }, { level: 2 }),
  ],
  [
    "weightedLimits requires weights or examination, got neither",
    () => weightedLimits(pairs as never),
  ],
  [
    "weightedLimits requires weights or examination, got both",
    () =>
      weightedLimits({
        ...pairs,
        weights: many,
        examination: { examined: many.map(() => 1), strata: many },
      } as never),
  ],
  [
    "weightedLimits requires finite weights of above 0, got 0 in row 0",
    () => weightedLimits({ ...pairs, weights: many }),
  ],
  ...[undefined, 1.5].map((seed): [string, () => unknown] => [
    `weightedLimits requires a whole seed with examination, got ${seed}`,
    () =>
      weightedLimits(
        { ...pairs, examination: { examined: many.map(() => 1), strata: many.map(() => 1) } },
        { seed } as never,
      ),
  ]),
  [
    "weightedLimits requires clusters without seed, got 1; leave it out: the jackknife over sites draws nothing",
    () =>
      weightedLimits(
        {
          ...pairs,
          clusters,
          examination: { examined: many.map(() => 1), strata: many.map(() => 1) },
        },
        { seed: 1 },
      ),
  ],
  [
    "withinDifference requires positive differences, got 0",
    () => withinDifference(pairs, { acceptable: [1, 0] }),
  ],
  [
    "regionShadow requires a covariance of M, J0 and J45 and a squaredRadius of 0 or more, got",
    () =>
      agreement.regionShadow({ covariance: [], squaredRadius: 1 } as never, vector, ["M", "J0"]),
  ],
];

it.each(refusals)("refused: %s", (says, call) => {
  expect(call).toThrow(says);
});
