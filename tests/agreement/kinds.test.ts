import { describe, expect, it } from "vitest";
import {
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
} from "../../src/agreement/index.js";

const many = Array.from({ length: 24 }, (_, row) => row);
const test = many.map((row) => row / 2 + Math.sin(7 * row));
const reference = many.map((row) => row / 2);
const pairs = { test, reference };
const subjects = many.map((row) => row >> 1);
const units = many.map((row) => row >> 1);
const site = many.map((row) => (row >> 1) % 3);
const clusters = { subject: subjects, site };
const weights = many.map(() => 1);
const vectors = many.map((row) => ({ M: test[row], J0: Math.cos(row), J45: Math.sin(3 * row) }));
const zero = many.map(() => ({ M: 0, J0: 0, J45: 0 }));
const eyes = many.map((row) => (row % 2 ? "left" : "right") as "left" | "right");
const cylinders = many.map((row) => ({ cylinder: -1, axis: row }));
const minus = { direction: "test-minus-reference" };

it.each([
  [
    "axes",
    () => axisAgreement({ test: cylinders, reference: cylinders }),
    {
      kind: "axis-agreement",
      cylinderAtLeast: 0.75,
      within: [{ degrees: 5 }, { degrees: 10 }, { degrees: 20 }],
    },
  ],
  [
    "bias by",
    () => biasBy({ ...pairs, by: site }, { label: "class" }),
    {
      kind: "bias-by",
      label: "class",
      n: 24,
      level: 0.95,
      withoutGroup: 0,
      homogeneity: { kind: "brown-forsythe" },
    },
  ],
  [
    "bias by the mean",
    () => biasBy(pairs, { label: "mean", breaks: [3] }),
    { groups: [{ group: "below 3" }, { group: "3 and over" }], notes: [] },
  ],
  [
    "calibration",
    () => calibrateReading(pairs),
    {
      kind: "calibration",
      label: "research estimate",
      perYear: null,
      folds: 10,
      seed: 1,
      level: 0.95,
      range: { ageYears: null },
    },
  ],
  [
    "concordance",
    () => concordanceCorrelation({ ...pairs, subjects }),
    { kind: "concordance-correlation", n: 24, subjects: 12, level: 0.95 },
  ],
  [
    "Deming",
    () => demingRegression(pairs, { errorRatio: 2 }),
    { kind: "deming-regression", errorRatio: 2, level: 0.95, n: 24, subjects: 24 },
  ],
  [
    "regression",
    () => differenceRegression({ ...pairs, covariates: { reference } }),
    { kind: "difference-regression", errors: "robust", n: 24 },
  ],
  [
    "regression, children",
    () => differenceRegression({ ...pairs, subjects, covariates: { reference } }),
    { errors: "cluster-robust", subjects: 12 },
  ],
  [
    "regression, sites",
    () => differenceRegression({ ...pairs, clusters, covariates: { reference } }),
    { errors: "site-jackknife", sites: 3 },
  ],
  [
    "double angles",
    () => doubleAngleSummary({ vectors, eyes }),
    { kind: "double-angle-summary", mirrored: true, level: 0.95, coverage: 0.95 },
  ],
  ["double angles, unmirrored", () => doubleAngleSummary({ vectors }), { mirrored: false }],
  [
    "folded",
    () => foldedDistribution(pairs),
    { kind: "folded-distribution", step: 0.125, rowsApart: 1, ...minus },
  ],
  [
    "grey zone",
    () => greyZone({ ...pairs, subjects }, { limit: 3, positiveWhen: "high" }),
    {
      kind: "grey-zone",
      n: 12,
      margin: 0.5,
      referenceLimit: 3,
      limit: 3,
      level: 0.95,
      positiveWhen: "high",
    },
  ],
  [
    "intraclass",
    () =>
      intraclassCorrelation(
        many.map((row) => [test[row], reference[row]]),
        { form: "ICC(2,1)" },
      ),
    { kind: "intraclass-correlation", estimate: { kind: "estimate" } },
  ],
  [
    "limits",
    () => limitsOfAgreement(pairs),
    {
      kind: "limits-of-agreement",
      assumes: "normal differences",
      interval: "exact",
      intervalFor: "each",
      design: "independent",
      trend: "mean",
      leads: "percentile",
      readings: 1,
      units: 24,
      subjects: 24,
      components: {},
      normality: { kind: "normality-test" },
      percentile: { kind: "percentile-limits", coverage: expect.closeTo(0.95, 12) },
      ...minus,
    },
  ],
  [
    "limits, children",
    () => limitsOfAgreement({ ...pairs, subjects }),
    { interval: "mover", design: "clustered", subjects: 12, units: 24 },
  ],
  [
    "limits, repeats",
    () => limitsOfAgreement({ ...pairs, units }),
    { interval: "mover", design: "repeats", subjects: 12, units: 12 },
  ],
  [
    "limits, both",
    () => limitsOfAgreement({ ...pairs, units, subjects: many.map((row) => row >> 2) }),
    { design: "clustered-repeats", subjects: 6, units: 12 },
  ],
  [
    "limits, sites",
    () => limitsOfAgreement({ ...pairs, clusters }),
    { interval: "site-jackknife", design: "clustered", sites: 3 },
  ],
  [
    "limits of a lone eye a child",
    () =>
      limitsOfAgreement({ ...pairs, subjects: many }, { interval: "bootstrap", replicates: 20 }),
    {
      interval: "bootstrap",
      design: "independent",
      bias: { method: "cluster-bootstrap-percentile" },
    },
  ],
  [
    "limits without ends",
    () => limitsOfAgreement({ ...pairs, endOfRange: many.map((row) => row < 2) }).withoutEndOfRange,
    { kind: "without-end-of-range", leftOut: 2, n: 22 },
  ],
  [
    "percentiles",
    () => nonparametricLimits(pairs),
    { kind: "nonparametric-limits", level: 0.95, coverage: 0.95, ...minus },
  ],
  [
    "percentiles, sites",
    () => nonparametricLimits({ ...pairs, clusters }),
    { sites: 3, subjects: 12 },
  ],
  [
    "t-test",
    () => pairedTTest(pairs),
    { kind: "paired-t-test", df: 23, n: 24, subjects: 24, level: 0.95 },
  ],
  [
    "Passing and Bablok",
    () => passingBablok(pairs),
    {
      kind: "passing-bablok",
      method: "passing-bablok",
      slope: { kind: "estimate", method: "passing-bablok" },
      notes: ["No subjects repeat: rows are taken as independent."],
      linearity: { kind: "linearity-test" },
    },
  ],
  [
    "ratios",
    () => ratioLimits({ test: test.map((x) => x + 2), reference: reference.map((x) => x + 2) }),
    { kind: "ratio-limits", n: 24, level: 0.95, ratio: { kind: "estimate", method: "log-t" } },
  ],
  [
    "conditional",
    () => regressionLimits(pairs),
    {
      kind: "regression-limits",
      against: "mean",
      level: 0.95,
      coverage: 0.95,
      notes: ["Right if mean and spread are linear."],
    },
  ],
  [
    "repeatability",
    () => repeatability({ values: test, units }),
    {
      kind: "repeatability",
      n: 24,
      units: 12,
      unitsWithOneReading: 0,
      subjects: 12,
      df: 12,
      level: 0.95,
    },
  ],
  [
    "signed ranks",
    () => signedRankTest(pairs),
    { kind: "signed-rank-test", n: 24, subjects: 24, method: "normal", zeros: 1 },
  ],
  [
    "survey",
    () => surveyLimits({ ...pairs, weights }),
    {
      kind: "survey-limits",
      multiplier: expect.closeTo(1.959963984540054, 12),
      n: 24,
      weight: 24,
      ...minus,
    },
  ],
  [
    "vectors",
    () => vectorAgreement({ test: vectors, reference: zero, eyes }),
    {
      kind: "vector-agreement",
      mirrored: true,
      simultaneous: "bonferroni",
      hotelling: { kind: "hotelling", method: "hotelling" },
      ...minus,
    },
  ],
  [
    "vectors, children",
    () => vectorAgreement({ test: vectors, reference: zero, subjects }),
    { mirrored: false, subjects: 12, hotelling: { method: "hotelling-cluster-robust" } },
  ],
  [
    "weighted",
    () => weightedLimits({ ...pairs, weights }),
    {
      kind: "weighted-limits",
      n: 24,
      level: 0.95,
      multiplier: expect.closeTo(1.959963984540054, 12),
      notes: [
        "Examination depended on the reading: the unweighted limits describe the examined only.",
        "The weights are taken as known.",
      ],
      ...minus,
    },
  ],
  [
    "within",
    () => withinDifference(pairs),
    {
      kind: "difference-shares",
      n: 24,
      shares: [{ acceptable: 0.25 }, { acceptable: 0.5 }, { acceptable: 1 }],
    },
  ],
] as const)("%s: what the result says it is", (_, call, wanted) => {
  expect(call()).toMatchObject(wanted);
});

describe("notes of limits", () => {
  const rows = "No subjects were given: the intervals assume independent rows.";
  const clustering =
    "Clustering hardly moves the limits themselves; it widens their intervals, which count children.";
  const slope = (of: string) =>
    `The slope on the ${of} is partly artefact: error in the ${of} appears in the difference too (Bland and Altman 1995).`;
  const heavy =
    "The differences have tails that are not normal (|excess kurtosis| > 1): limits of bias ± SDs, " +
    "their intervals and the share outside them may be off; read the percentile limits";
  const beside = "; a bootstrap over children stands beside them too.";
  const overSites =
    "Intervals respect that children of one site resemble each other; they count 3 sites.";
  const wild = { test: test.with(5, 30), reference };
  const calm = {
    test: many.map((row) => row / 2 + Math.sin(7 * row) + Math.sin(3 * row) + Math.sin(11 * row)),
    reference,
  };

  it.each([
    ["rows", calm, {}, [rows]],
    ["one eye a child", { ...calm, subjects: many }, {}, []],
    ["children", { ...calm, subjects }, {}, [clustering]],
    ["sites", { ...calm, clusters }, {}, [overSites]],
    ["the trend on the test", calm, { trend: "test" }, [rows, slope("test")]],
    ["the trend on the reference", calm, { trend: "reference" }, [rows, slope("reference")]],
    ["heavy tails", wild, {}, [rows, `${heavy}.`]],
    ["heavy tails, children", { ...wild, subjects }, {}, [clustering, heavy + beside]],
    ["heavy tails, sites", { ...wild, clusters }, {}, [overSites, `${heavy}.`]],
    [
      "heavy tails, bootstrap",
      { ...wild, subjects },
      { interval: "bootstrap", replicates: 20 },
      [clustering, `${heavy}.`],
    ],
  ] as const)("%s", (_, data, options, notes) => {
    const found = limitsOfAgreement(data, options);
    expect(found.notes).toEqual(notes);
    expect("bootstrap" in found).toBe(notes.some((note) => note.endsWith(beside)));
  });
});

describe("near the end of what numbers can hold", () => {
  it.each([1e8, -1e8, 1e-8])("Deming's slope of %f has all its digits", (slope) => {
    const x = [1, 2, 4, 5, 7];
    const y = x.map((one) => slope * one);
    const found = demingRegression({ test: y, reference: x }, { errorRatio: 1 }).slope;
    expect(found.value! / slope).toBeCloseTo(1, 10);
  });

  it("a magnitude that varies by rounding alone does not vary", () => {
    const noise = many.map((row) => (row % 2 ? 0.3 : 0.1 + 0.2));
    expect(() => regressionLimits({ test, reference: noise }, { against: "reference" })).toThrow(
      "regressionLimits requires a reference that varies and differences off their line",
    );
    expect(limitsOfAgreement({ test, reference: noise }, { trend: "reference" }).slope).toEqual({
      kind: "undefined",
      reason: "the reference does not vary",
    });
    expect(() => differenceRegression({ ...pairs, covariates: { noise } })).toThrow(
      "differenceRegression requires covariates that are not collinear and more rows and subjects than covariates, got noise",
    );
  });

  it("a percentile that is one rank takes no step from the rank before", () => {
    // (41 - 1) times .025 is 1: the second of 41, and the second from above
    const values = [-1e20, 1, ...Array.from({ length: 37 }, (_, row) => row + 2), 50, 1e20];
    const { percentiles } = nonparametricLimits({ test: values, reference: values.map(() => 0) });
    expect(percentiles).toEqual({ lower: 1, median: 20, upper: 50 });
  });

  it("the SD of approximate limits: chi-square of rows, recovered of children", () => {
    const sdOf = (data: object) =>
      limitsOfAgreement({ ...pairs, ...data }, { interval: "approximate" }).sd.method;
    expect([sdOf({}), sdOf({ subjects }), sdOf({ units })]).toEqual([
      "chi-square",
      "mover",
      "mover",
    ]);
  });
});

describe("names of before", () => {
  const examination = {
    examined: many.map((row) => row % 4 !== 0),
    strata: many.map(() => "all"),
  };
  it.each([
    [
      "limitsOfAgreement",
      () => limitsOfAgreement(pairs, { limits: "pair" } as never),
      () => limitsOfAgreement(pairs, { intervalFor: "pair" }),
    ],
    [
      "biasBy",
      () => biasBy({ ...pairs, by: site }, { factor: "x" } as never),
      () => biasBy({ ...pairs, by: site }, { label: "x" }),
    ],
    [
      "vectorAgreement",
      () =>
        vectorAgreement({ test: vectors, reference: zero }, { toleranceReplicates: 5 } as never),
      () => vectorAgreement({ test: vectors, reference: zero }, { replicates: 5 }),
    ],
    [
      "weightedLimits",
      () =>
        weightedLimits(
          { ...pairs, verification: examination } as never,
          { seed: 1, replicates: 20 } as never,
        ),
      () => weightedLimits({ ...pairs, examination }, { seed: 1, replicates: 20 }),
    ],
  ] as const)("%s still reads them", (_, former, present) => {
    expect(former()).toEqual(present());
  });
});
