import { expect, it } from "vitest";
import {
  biasBy,
  concordanceCorrelation,
  demingRegression,
  differenceRegression,
  intraclassCorrelation,
  limitsOfAgreement,
  nonparametricLimits,
  pairedTTest,
  passingBablok,
  ratioLimits,
  repeatability,
  signedRankTest,
  vectorAgreement,
  weightedLimits,
} from "../../src/agreement/index.js";
import { known } from "../known.js";

const many = Array.from({ length: 12 }, (_, row) => row);
const test = many.map((row) => row + ((row * 7) % 5) / 4);
const reference = many.map((row) => 1.1 * row - ((row * 3) % 4) / 5);
const pairs = { test, reference };
const subjects = many.map((row) => row >> 1);
const clusters = { subject: subjects, site: many.map((row) => (row >> 1) % 2) };
const vector = { M: 1, J0: 0, J45: 0 };
const matrix = [
  [1, 2],
  [2, 4],
  [3, 3],
];
const limits = (data: object, options: object = {}) =>
  limitsOfAgreement({ ...pairs, ...data }, options);
const equal = { test: [1, 2, 3, 4, 5], reference: [0, 1, 2, 3, 4] };
const reasons: [reason: string, found: () => { readonly kind: string }][] = [
  [
    "test or reference does not vary",
    () => concordanceCorrelation({ ...pairs, test: many.map(() => 1) }).estimate,
  ],
  [
    "test and reference are not correlated at all",
    () => concordanceCorrelation({ test: [-1, 1, -1, 1], reference: [-1, -1, 1, 1] }).estimate,
  ],
  [
    "test and reference do not vary together",
    () =>
      demingRegression({ test: [-1, 1, -1, 1], reference: [-1, -1, 1, 1] }, { errorRatio: 1 })
        .slope,
  ],
  [
    "the targets' means do not vary",
    () =>
      intraclassCorrelation(
        [
          [1, 2],
          [2, 1],
        ],
        { form: "ICC(1,1)" },
      ).estimate,
  ],
  [
    "the mean does not vary",
    () => limitsOfAgreement({ test: [1, 2, 3], reference: [3, 2, 1] }).slope,
  ],
  [
    "the test does not vary",
    () => limitsOfAgreement({ test: [1, 1, 1], reference: [3, 2, 1] }, { trend: "test" }).slope,
  ],
  ["not asked for", () => limitsOfAgreement(pairs, { conditional: "skip" }).conditional],
  ["not asked for", () => limitsOfAgreement(pairs, { normality: "skip" }).conditional],
  [
    "12 children: conditional limits need at least 100",
    () => limitsOfAgreement(pairs, { normality: "skip", conditional: "compute" }).conditional,
  ],
  [
    "percentiles are of single readings, not of means of repeats",
    () => limitsOfAgreement({ ...pairs, units: subjects }, { readings: 2 }).percentile,
  ],
  [
    "no reading lies at an end of the range",
    () => limitsOfAgreement({ ...pairs, endOfRange: many.map(() => 0) }).withoutEndOfRange!,
  ],
  [
    "too few rows are left without them",
    () =>
      limitsOfAgreement({ ...pairs, endOfRange: many.map((row) => row > 1) }).withoutEndOfRange!,
  ],
  ["all differences are equal", () => pairedTTest(equal).t as never],
  ["all differences are equal", () => pairedTTest(equal).p as never],
  [
    "rows of one child: nothing is known of their variance",
    () => pairedTTest({ ...equal, subjects: [1, 1, 1, 1, 1] }).difference as never,
  ],
  [
    "rows of fewer than 2 children: nothing is known of their variance",
    () => nonparametricLimits({ ...equal, subjects: [1, 1, 1, 1, 1] }).median,
  ],
  [
    "3 rows are too few for an interval of this percentile",
    () => nonparametricLimits({ test: [1, 2, 4], reference: [0, 0, 0] }).median,
  ],
  [
    "no two rows have a slope that counts",
    () => passingBablok({ test: [1, 1, 1, 1], reference: [2, 2, 2, 2] }).slope,
  ],
  [
    "the slope or a limit of it is vertical",
    () => passingBablok({ test: [1, 2, 3, 4], reference: [2, 2, 2, 2] }).slope,
  ],
  ["no unit has two readings", () => repeatability({ values: [1, 2], units: [1, 2] }).withinSd],
  [
    "all repeated readings are equal",
    () => repeatability({ values: [1, 1], units: [1, 1] }).withinSd,
  ],
  [
    'fewer than 2 children (or sites) carry the repeat error: no interval; "chi-square" gives one if all eyes share one SD',
    () => repeatability({ values: [1, 2, 3, 3], units: [1, 1, 2, 2] }).withinSd,
  ],
  [
    "too few units that repeat, or their means do not vary",
    () => repeatability({ values: [1, 2, 3, 3], units: [1, 1, 2, 2] }).magnitudeSlope,
  ],
  [
    "the covariance of the mean difference is singular",
    () =>
      vectorAgreement({
        test: many.map((one) => ({ M: one, J0: one, J45: one })),
        reference: many.map(() => vector),
      }).hotelling,
  ],
  [
    "fewer than two groups have rows",
    () => biasBy({ ...pairs, by: many.map(() => "a") }, { label: "x" }).homogeneity,
  ],
  [
    'fewer than 4 children in "a", "b": merge small groups with others',
    () =>
      biasBy(
        { ...pairs, by: many.map((row) => (row < 2 ? "a" : row < 4 ? "b" : "c")) },
        { label: "x" },
      ).homogeneity,
  ],
  [
    "the differences do not vary within groups",
    () =>
      biasBy({ test: many, reference: many, by: many.map((row) => row % 2) }, { label: "x" })
        .homogeneity,
  ],
  [
    "sites: no test of equal bias is known to hold above children",
    () =>
      biasBy({ ...pairs, clusters, by: many.map((row) => row % 2) }, { label: "x" }).homogeneity,
  ],
  [
    "1 rows of 1 subjects are too few",
    () =>
      biasBy({ ...pairs, by: many.map((row) => (row === 0 ? "a" : "b")) }, { label: "x" }).groups[0]
        .bias,
  ],
  [
    "sites: no joint test is known to hold above children",
    () => differenceRegression({ ...pairs, clusters, covariates: { test } }).wald as never,
  ],
  [
    "the covariates fit every difference: no error is left to test them by",
    () =>
      differenceRegression({ test: many, reference: many.map(() => 0.1), covariates: { many } })
        .wald as never,
  ],
];

it.each(reasons)("undefined: %s", (reason, found) => {
  expect(found()).toEqual({ kind: "undefined", reason });
});

const methods: [method: string, found: () => { readonly method?: string }][] = [
  ["exact", () => limits({}).upper],
  ["exact-pair", () => limits({}, { intervalFor: "pair" }).upper],
  ["approximate", () => limits({}, { interval: "approximate" }).upper],
  ["mover", () => limits({}, { interval: "mover" }).upper],
  ["mover", () => limits({ subjects }).sd],
  ["chi-square", () => limits({}).sd],
  ["t", () => limits({}).bias],
  ["t-clusters", () => limits({ subjects }).bias],
  ["t-robust", () => known(limits({}).slope)],
  ["t-cluster-robust", () => known(limits({ subjects }).slope)],
  [
    "dagostino-pearson",
    () =>
      limitsOfAgreement({
        test: [...test, ...many, ...many],
        reference: [...reference, ...test, ...reference],
      }).normality!,
  ],
  [
    "log-exact",
    () =>
      ratioLimits({ test: test.map((x) => x + 1), reference: reference.map((x) => x + 2) }).lower,
  ],
  [
    "linearised-cluster-robust",
    () => weightedLimits({ ...pairs, weights: many.map(() => 2) }).bias,
  ],
  [
    "linearised-sites-rough",
    () => weightedLimits({ ...pairs, clusters, weights: many.map(() => 2) }).bias,
  ],
  [
    "linearised-sites",
    () =>
      weightedLimits({
        ...pairs,
        clusters: { subject: many, site: subjects },
        weights: many.map(() => 2),
      }).bias,
  ],
  ["fisher-z", () => known(concordanceCorrelation(pairs).estimate)],
  ["asymptotic", () => known(concordanceCorrelation(pairs, { interval: "asymptotic" }).estimate)],
  ["degenerate", () => known(concordanceCorrelation({ test, reference: test }).estimate)],
  ["jackknife", () => known(demingRegression(pairs, { errorRatio: 1 }).slope)],
  ["t", () => known(pairedTTest(pairs).difference as never)],
  ["t-clusters", () => known(pairedTTest({ ...pairs, subjects }).difference as never)],
  ["exact", () => signedRankTest({ test: [1, 3, 6, 10], reference: [0, 0, 0, 0] })],
  ["normal", () => signedRankTest({ test: [1, 1, 6, 10], reference: [0, 0, 0, 0] })],
  ["normal", () => signedRankTest({ test: [1, 1], reference: [1, 1] })],
  ["clusters", () => signedRankTest({ ...pairs, subjects })],
  ["exact-sites", () => signedRankTest({ ...pairs, clusters })],
  ["f", () => known(intraclassCorrelation(matrix, { form: "ICC(1,1)" }).estimate)],
  [
    "f-satterthwaite",
    () =>
      known(
        intraclassCorrelation(
          [
            [1, 1.2],
            [5, 5.1],
            [9, 9.2],
          ],
          { form: "ICC(2,1)" },
        ).estimate,
      ),
  ],
  [
    "chi-square",
    () =>
      known(
        repeatability({ values: [1, 2, 4, 6], units: [1, 1, 2, 2] }, { interval: "chi-square" })
          .withinSd,
      ),
  ],
  [
    "log-jackknife",
    () => known(repeatability({ values: [1, 2, 4, 6, 7, 9], units: [1, 1, 2, 2, 3, 3] }).withinSd),
  ],
  ["bootstrap-percentile", () => examined(many).bias],
  ["cluster-bootstrap-percentile", () => examined(subjects).bias],
];

function examined(of: number[]) {
  const examination = { examined: many.map(() => 1), strata: many.map(() => "all") };
  const found = weightedLimits(
    { ...pairs, subjects: of, examination },
    { seed: 1, replicates: 20 },
  );
  if (found.kind === "undefined") throw new Error(found.reason);
  return found;
}

it.each(methods)("method %s", (method, found) => {
  expect(found().method).toBe(method);
});

it("a test of normality stands beside independent rows only, 20 and more", () => {
  const twenty = Array.from({ length: 20 }, (_, row) => Math.sin(row));
  const zeros = twenty.map(() => 0);
  const of = (data: object) => limitsOfAgreement({ test: twenty, reference: zeros, ...data });
  expect(of({})).toHaveProperty("normality");
  expect(of({ subjects: twenty.map((_, row) => row >> 1) })).not.toHaveProperty("normality");
  const short = limitsOfAgreement({ test: twenty.slice(1), reference: zeros.slice(1) });
  expect(short).not.toHaveProperty("normality");
});
