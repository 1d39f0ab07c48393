import {
  type AccuracyMeasures,
  netBenefit,
  predictiveValuesAt,
  verificationBounds,
} from "../../src/accuracy/index.js";
import type { LimitsOfAgreement } from "../../src/agreement/index.js";
import { ellipseFrom } from "../../src/agreement/vectors/ellipse.js";
import { shareDistributions } from "../../src/cohort/index.js";
import type { ParticipantFlow } from "../../src/cohort/types.js";
import * as figures from "../../src/figures/index.js";
import { planAccuracyStudy, planAgreementStudy } from "../../src/planning/index.js";
import { matchIntervalMethod } from "../../src/printed/index.js";
import { compareProgrammes, funnelLimits } from "../../src/programme/index.js";
import { type Estimate, type FigureSpec, linearEstimate } from "../../src/results/index.js";
import { paretoFront } from "../../src/rulespace/paretoFront.js";
import { ruleSpace } from "../../src/rulespace/ruleSpace.js";
import { partialArea } from "../../src/thresholds/areas/partialArea.js";
import { accuracyAtCutOffs, compareInstruments } from "../../src/thresholds/index.js";
import { rocCurve } from "../../src/thresholds/rocCurve.js";
import { inventedYear } from "../builders/inventedYear.js";
import { partOf } from "../builders/partOf.js";

const instruments = compareInstruments({
  instruments: {
    "instrument A": [1, 2, 3, 4, 6, 5.5, 2, 1, 0, -1, -2, -2.5],
    "instrument B": [1, 1, 4, 4, 5, 6, 2.5, 0.5, 0, -2, -2, -3],
  },
  reference: [1, 2, 3, 4, 5, 6, 2, 1, 0.5, -1, -2, -3],
});
const funnel = funnelLimits(inventedYear(2));
const years = compareProgrammes(inventedYear(2), inventedYear(3), { names: ["2024", "2025"] });
const moreReferred = years.measures.find(({ id }) => id === "referred")!;

const match = matchIntervalMethod({
  table: { truePositive: 57, falsePositive: 58, falseNegative: 0, trueNegative: 0 },
  measure: "positivePredictiveValue",
  printed: { low: "41", high: "60" },
});

const precisionPlan = planAccuracyStudy({
  expected: { sensitivity: 0.9, specificity: 0.85, prevalence: 0.2 },
  aim: { halfWidth: { sensitivity: 0.1 } },
});
const powerPlan = planAgreementStudy({
  expected: { bias: -0.1, sd: 0.5 },
  aim: { within: 1.5, power: 0.8 },
});

const part = (outcome: figures.OutcomePart["outcome"], share: number | null, words: string) => ({
  outcome,
  share,
  words,
});
const screenedThousand: figures.ThousandPanel = {
  of: "1000 children screened",
  parts: [
    part("rightly-referred", 0.0405, "41 (32 to 52)"),
    part("wrongly-referred", 0.0965, "97 (82 to 113)"),
    part("missed", 0.0125, "13 (7 to 20)"),
    part("rightly-passed", 0.8505, "851 (832 to 867)"),
  ],
};
const coarseThousand: figures.ThousandPanel = {
  of: "1000 children screened",
  parts: [
    part("rightly-referred", 0.0039, "3 to 13 (2 to 16)"),
    part("wrongly-referred", 0.047, "47 to 57 (43 to 60)"),
    part("missed", 0, "0 to 21 (0 to 31)"),
    part("rightly-passed", 0.918, "918 to 930 (909 to 936)"),
  ],
  open: "Any of these: the counts are coarse, so that the parts are ranges.",
};
const blindThousand: figures.ThousandPanel = {
  of: "1000 eyes screened",
  parts: [
    part("rightly-referred", 0.04, "40 (31 to 50)"),
    part("wrongly-referred", 0.1, "100 (85 to 116)"),
    part("missed", null, "not estimated"),
    part("rightly-passed", null, "not estimated"),
  ],
  open: "Which of these is not known.",
};

/** One figure with its input, and what its text has to say. */
export interface FigureCase {
  readonly name: string;
  readonly draw: () => FigureSpec;
  readonly input: readonly unknown[];
  readonly n: number;
  /** Of the input: value and both ends of the interval stand together in the text. */
  readonly estimates: readonly Estimate[];
  /** Of the input: numbers without an interval of their own. */
  readonly numbers: readonly number[];
}

const estimate = (value: number, low: number, high: number, method = "wilson"): Estimate => ({
  kind: "estimate",
  value,
  low,
  high,
  level: 0.95,
  method,
});

// deterministic invented numbers: a wave over the rows
const wave = (row: number, step: number) => Math.sin(row * step) + Math.sin(row * step * 0.37);
const columns = (n: number) => {
  const reference = Array.from({ length: n }, (_, row) => Math.round(8 * wave(row, 1.7)) / 4 - 1);
  const test = reference.map((value, row) => value + Math.round(4 * wave(row, 2.3)) / 8 - 0.25);
  return { test, reference };
};

// pairs of a cohort carry a kind of their own
export const pairs = { kind: "eye-pairs", ...columns(300) };
export const limits: figures.LimitsShown = {
  n: 300,
  bias: estimate(-0.254, -0.291, -0.217, "t"),
  lower: estimate(-1.018, -1.083, -0.962, "exact"),
  upper: estimate(0.51, 0.454, 0.575, "exact"),
};
export const regression = {
  kind: "regression-limits",
  n: 300,
  subjects: 300,
  level: 0.95,
  coverage: 0.95,
  against: "mean",
  intercept: estimate(-0.26, -0.3, -0.22),
  slope: estimate(-0.012, -0.03, 0.006),
  spreadIntercept: estimate(0.31, 0.28, 0.34),
  spreadSlope: estimate(0.01, -0.01, 0.03),
  quantiles: [-2.45, 2.45],
  range: [-4, 3],
  withoutSpread: 0,
  band: {
    kind: "conditional-band",
    level: 0.95,
    points: [-3, 0, 2].map((at) => ({
      at,
      lower: [-1.13 - 0.012 * at, -0.91 - 0.012 * at] as const,
      upper: [0.39 - 0.012 * at, 0.61 - 0.012 * at] as const,
    })),
  },
  notes: [],
  lower: { intercept: -1.02, slope: -0.012 },
  upper: { intercept: 0.5, slope: -0.012 },
  points: [-3, 0, 2].map((at) => ({
    at,
    bias: estimate(-0.26 - 0.012 * at, -0.3 - 0.012 * at, -0.22 - 0.012 * at),
    lower: estimate(-1.02 - 0.012 * at, -1.09 - 0.012 * at, -0.95 - 0.012 * at),
    upper: estimate(0.5 - 0.012 * at, 0.43 - 0.012 * at, 0.57 - 0.012 * at),
  })),
} as const;

const curve = rocCurve(
  { values: pairs.test, condition: pairs.reference.map((value) => value <= -2) },
  { positiveWhen: "low" },
);
const crosses = accuracyAtCutOffs(curve);
const crossAt = crosses.points.find(({ cutOff }) => cutOff === -2) as unknown as Record<
  "sensitivity" | "specificity",
  Estimate
>;
const linked = {
  test: pairs.test.map((M, row) => ({ M, J0: wave(row, 1.1) / 2, J45: wave(row, 0.7) / 4 })),
  reference: pairs.reference.map((M, row) => ({
    M,
    J0: wave(row, 1.3) / 2,
    J45: wave(row, 0.9) / 4,
  })),
  ageYears: pairs.test.map((_, row) => 6 + (row % 9)),
};
/** Cut-off, sensitivity, specificity and referral rate where no row lies between. */
const atLimit = (limit: number) => {
  const point = curve.points.find(({ cutOff }) => cutOff === limit)!;
  const { sensitivity, specificity, truePositive, falsePositive } = point;
  return [limit, sensitivity, specificity, (truePositive + falsePositive) / curve.n];
};
const area = estimate(0.9714, 0.9581, 0.9802, "delong");
const partial = partialArea(curve, { falsePositiveRate: [0, 0.2] });
const partialUp = partialArea(curve, { truePositiveRate: [0.8, 1] });
const band = {
  kind: "sensitivity-band",
  n: 300,
  level: 0.95,
  method: "percentile",
  replicates: 200,
  seed: 1,
  points: [0, 0.25, 0.5, 1].map((falsePositiveRate) => ({
    falsePositiveRate,
    sensitivity: estimate(0.9, 0.8 + 0.1 * falsePositiveRate, 0.95 + 0.05 * falsePositiveRate),
  })),
} as const;

const centre = { x: 0.35, y: -0.02 };
const spread = { xx: 0.15, xy: 0.01, yy: 0.02 };
const ellipses = [
  ellipseFrom(centre, { xx: 0.0005, xy: 0.00003, yy: 0.00007 }, 6.1, {
    region: "confidence-of-mean",
    level: 0.95,
    method: "hotelling",
  }),
  ellipseFrom(centre, spread, 5.991, { region: "plug-in", level: 0.95, method: "chi-square" }),
];
const spoken = ellipses.flatMap(({ centre: { x, y }, semiAxes }) => [x, y, ...semiAxes]);
const vectors = Array.from({ length: 300 }, (_, row) => ({
  M: wave(row, 0.9),
  J0: 0.35 + 0.2 * wave(row, 1.1),
  J45: 0.08 * wave(row, 1.9),
}));

const flow: ParticipantFlow = {
  kind: "flow",
  boxes: [
    { id: "all", label: "In either file", children: 300, eyes: 600, partOf: null, role: "total" },
    {
      id: "young",
      label: "Not eligible by age",
      children: 4,
      eyes: 8,
      partOf: "all",
      role: "excluded",
    },
    { id: "eligible", label: "Eligible", children: 296, eyes: 592, partOf: "all", role: "kept" },
    {
      id: "unreadable",
      label: "Unreadable",
      children: 40,
      eyes: 85,
      partOf: "eligible",
      role: "excluded",
    },
    {
      id: "over",
      label: "Above the instrument's range",
      children: 3,
      eyes: 6,
      partOf: "eligible",
      role: "excluded",
    },
    {
      id: "read",
      label: "With a usable reading",
      children: 253,
      eyes: 501,
      partOf: "eligible",
      role: "kept",
    },
    {
      id: "lost",
      label: "No exam finding",
      children: 120,
      eyes: 239,
      partOf: "read",
      role: "excluded",
    },
    {
      id: "paired",
      label: "Reading and finding paired",
      children: 133,
      eyes: 262,
      partOf: "read",
      role: "kept",
    },
  ],
};

const table = { truePositive: 90, falsePositive: 30, falseNegative: 14, trueNegative: 166 };
const predictive = predictiveValuesAt({ table, prevalence: [0.02, 0.1, 0.3] });
const benefit = netBenefit({ table }, { thresholdProbabilities: [0.02, 0.1, 0.3] });
const bounds = verificationBounds({
  verified: table,
  unverified: { testPositive: 40, testNegative: 160 },
});
const corrected: Pick<AccuracyMeasures, "sensitivity" | "specificity"> = {
  sensitivity: estimate(0.82, 0.71, 0.9, "logit"),
  specificity: estimate(0.88, 0.85, 0.91, "logit"),
};

export const space = ruleSpace({
  measures: { sphere: pairs.test, cylinder: pairs.reference.map((value) => value + 1) },
  condition: pairs.reference.map((value) => value >= 1),
  limits: { sphere: [0.5, 1, 1.5], cylinder: [1, 2, 3] },
});
const front = paretoFront(space);
const chosen = front.points[Math.floor(front.points.length / 2)]!;

const inUse = {
  name: "rule in use",
  table: { truePositive: 40, falseNegative: 27, falsePositive: 46, trueNegative: 187 },
  sensitivity: 0.6,
  specificity: 0.8,
};

const choice = {
  kind: "threshold-choice",
  label: "",
  n: 300,
  withCondition: 100,
  withoutCondition: 200,
  weighting: "none",
  positiveWhen: "low",
  criterion: "youden",
  cutOff: -2.25,
  words: "<= -2.25",
  table,
  distribution: [
    { cutOff: null, share: 0.01 },
    { cutOff: -2.5, share: 0.29 },
    { cutOff: -2.25, share: 0.7 },
  ],
  apparent: { sensitivity: 0.9, specificity: 0.85, youdenIndex: 0.75 },
  optimism: { sensitivity: 0.01, specificity: 0.01, youdenIndex: 0.02 },
  corrected: { sensitivity: 0.89, specificity: 0.84, youdenIndex: 0.73 },
  correctedIntervals: {
    sensitivity: estimate(0.89, 0.81, 0.95, "nested"),
    specificity: estimate(0.84, 0.78, 0.89, "nested"),
    youdenIndex: estimate(0.73, 0.65, 0.8, "nested"),
  },
  crossValidated: null,
  crossValidationError: null,
  folds: 10,
  repeats: 1,
  constraint: null,
  level: 0.95,
  method: "bootstrap",
  replicates: 200,
  failed: 0,
  seed: 1,
  notes: [],
  caution: "",
} as const;

const sites = [
  { label: "Dellwater", n: 120, counts: [60, 14], estimate: estimate(0.81, 0.7, 0.88) },
  { label: "Corvale", n: 180, counts: [140, 11], estimate: estimate(0.93, 0.88, 0.96) },
  {
    label: "Ashmere",
    n: 20,
    counts: [0, 0],
    estimate: { kind: "undefined", reason: "no case was examined" } as const,
  },
  { label: "all", n: 320, counts: [200, 25], estimate: estimate(0.89, 0.83, 0.92), summary: true },
] as const;
const smallSites = [
  { label: "Dellwater", n: 120, counts: [60, 14], estimate: estimate(0.81, 0.7, 0.88) },
  { label: "Corvale", n: 180, counts: [147, 4], estimate: estimate(0.97, 0.93, 0.99) },
  { label: "Ashmere", n: 90, counts: [40, 15], estimate: estimate(0.73, 0.6, 0.83) },
  { label: "all", n: 390, counts: [247, 33], estimate: estimate(0.88, 0.84, 0.91), summary: true },
] as const;
const repeats = {
  kind: "repeatability",
  n: 600,
  units: 300,
  unitsWithOneReading: 0,
  subjects: 150,
  level: 0.95,
  df: 300,
  withinSd: estimate(0.31, 0.29, 0.34),
  coefficient: estimate(0.86, 0.8, 0.94),
  magnitudeSlope: estimate(0.02, -0.01, 0.05),
  magnitudeP: 0.2,
} as const;
const units = { mean: pairs.reference, sd: pairs.test.map((value) => Math.abs(value % 0.7)) };
const percentile = (value: number, low: number, high: number) => ({
  ...estimate(value, low, high, "order-statistics"),
  designEffect: 1,
  effectiveRows: 300,
});
const percentiles = {
  kind: "nonparametric-limits",
  n: 300,
  subjects: 300,
  level: 0.95,
  coverage: 0.95,
  direction: "test-minus-reference",
  percentiles: { lower: -1.1, median: -0.25, upper: 0.6 },
  lower: percentile(-1.1, -1.25, -1.0),
  median: percentile(-0.25, -0.3, -0.2),
  upper: percentile(0.6, 0.5, 0.7),
} as const;
const line = { n: 300, slope: estimate(0.98, 0.96, 1.0), intercept: estimate(-0.27, -0.31, -0.22) };
const calibration = {
  kind: "calibration",
  label: "research estimate",
  n: 300,
  subjects: 300,
  level: 0.95,
  intercept: estimate(0.26, 0.21, 0.31),
  slope: estimate(1.01, 0.99, 1.03),
  perYear: null,
  folds: 10,
  seed: 1,
  crossValidated: { bias: 0.01, sd: 0.4 },
  ranges: [],
  coverage: estimate(0.95, 0.92, 0.97),
  uncalibratedSd: 0.41,
  range: { test: [-5, 3], ageYears: null },
  caution: "",
} as const;
const agreementOf = (bias: Estimate) => ({ bias }) as LimitsOfAgreement;
const biasGroup = (group: string, n: number, subjects: number, bias: Estimate) => {
  const agreement = agreementOf(bias);
  const { sd, lower, upper } = agreement;
  return { group, n, subjects, agreement, bias, sd, lower, upper };
};
const biasGroups = {
  kind: "bias-by",
  label: "age (years)",
  n: 305,
  level: 0.95,
  groups: [
    biasGroup("below 8", 100, 50, estimate(-0.4, -0.5, -0.3)),
    biasGroup("8 and over", 200, 100, estimate(-0.2, -0.25, -0.15)),
    biasGroup("unclear", 5, 3, estimate(-0.9, -2, 0.2)),
  ],
  withoutGroup: 0,
  homogeneity: { kind: "undefined", reason: "not asked for" },
  notes: [],
} as const;
const vectorResult = partOf<Parameters<typeof figures.vectorProjectionsFigure>[0]>({
  n: 300,
  mean: { M: -0.25, J0: 0.02, J45: 0.01 },
  limits: {
    M: { bias: estimate(-0.25, -0.32, -0.18, "t") },
    J0: { bias: estimate(0.02, -0.02, 0.06, "t") },
    J45: { bias: estimate(0.01, -0.01, 0.03, "t") },
  },
  hotelling: { kind: "hotelling", t2: 40, f: 13.2, df: [3, 297], p: 0.000001, method: "hotelling" },
  regions: [
    {
      region: "plug-in",
      level: 0.95,
      method: "chi-square",
      covariance: [
        [0.4, 0.02, 0],
        [0.02, 0.15, 0.01],
        [0, 0.01, 0.02],
      ],
      squaredRadius: 7.815,
    },
  ],
});
const tradeoffOf = (falseNegatives: readonly number[]) =>
  partOf<Parameters<typeof figures.scoreTradeoffFigure>[0]>({
    n: 300,
    subjects: 150,
    betterWhen: "high",
    steps: [null, 3, 5, 8].map((scoreLimit, at) => ({
      scoreLimit,
      childrenLost: 15 * at,
      shareOfChildrenLost: 0.1 * at,
      accuracy: {
        kind: "threshold-validation",
        accuracy: {
          table: {
            truePositive: 90 - 12 * at,
            falseNegative: falseNegatives[at],
            falsePositive: 30,
            trueNegative: 180 - 20 * at,
          },
          sensitivity: estimate(0.8 + 0.02 * at, 0.7 + 0.02 * at, 0.88 + 0.02 * at),
          specificity: estimate(0.9 + 0.01 * at, 0.85 + 0.01 * at, 0.94 + 0.01 * at),
        },
      },
    })),
  });
const tradeoff = tradeoffOf([22, 22, 11, 11]);
const smallTradeoff = tradeoffOf([9, 7, 6, 4]);
const lastRates = [estimate(0.86, 0.76, 0.94), estimate(0.93, 0.88, 0.97), 0.3, 8];
const reasons = [
  { reasons: ["hyperopia"], children: 40 },
  { reasons: ["astigmatism"], children: 60 },
  { reasons: ["hyperopia", "astigmatism"], children: 7 },
  { reasons: ["anisometropia"], children: 12 },
];
const found = [
  { referredFor: "hyperopia", found: "hyperopia", children: 30 },
  { referredFor: "hyperopia", found: "nothing", children: 20 },
  { referredFor: "astigmatism", found: "hyperopia", children: 4 },
  { referredFor: "astigmatism", found: "nothing", children: 40 },
];
const journal = { audience: "journal" } as const;
const byExam = shareDistributions({ examined: pairs.test, "not examined": pairs.reference });
const byAge = shareDistributions({
  "4 to 7 years": pairs.test.slice(0, 100),
  "8 to 12 years": pairs.test.slice(100),
  "13 years": pairs.reference.slice(0, 4),
});
const quartiles = ({ groups }: typeof byExam) =>
  groups.flatMap(({ n, lowerQuartile, median, upperQuartile }) => [
    n,
    ...[lowerQuartile, median, upperQuartile].flatMap((value) => (value === null ? [] : [value])),
  ]);

const one = (
  name: string,
  n: number,
  input: readonly unknown[],
  said: readonly unknown[],
  draw: () => FigureSpec,
): FigureCase => ({
  name,
  draw,
  input,
  n,
  numbers: said.filter((item): item is number => typeof item === "number"),
  estimates: said.filter(
    (item): item is Estimate =>
      typeof item === "object" && item !== null && "kind" in item && item.kind === "estimate",
  ),
});

const bothLimits = {
  outside: { below: 4, above: 14 },
  percentile: {
    lower: percentile(-0.88, -0.98, -0.79),
    upper: percentile(0.66, 0.58, 0.81),
  },
} as const;

/** Every figure of the package, on invented results. */
export const cases: readonly FigureCase[] = [
  one(
    "difference-against-mean",
    300,
    [limits, pairs],
    [limits.bias, limits.lower, limits.upper],
    () => figures.differenceAgainstMeanFigure(limits, pairs),
  ),
  one(
    "difference-against-mean-both",
    300,
    [{ ...limits, ...bothLimits }, pairs],
    [limits.bias, bothLimits.percentile.lower, bothLimits.percentile.upper, limits.lower],
    () => figures.differenceAgainstMeanFigure({ ...limits, ...bothLimits }, pairs),
  ),
  one("difference-against-mean-eyes", 300, [limits, pairs], [limits.bias], () =>
    figures.differenceAgainstMeanFigure(limits, pairs, { ...journal, histogram: true }),
  ),
  one("difference-against-mean-sloped", 300, [limits, regression, pairs], [limits.bias], () =>
    figures.differenceAgainstMeanFigure(limits, pairs, { regression }),
  ),
  one("difference-against-mean-lines", 300, [limits], [limits.bias], () =>
    figures.differenceAgainstMeanFigure(limits),
  ),
  one("difference-against-mean-acceptable", 300, [limits, pairs], [limits.bias, 0.5], () =>
    figures.differenceAgainstMeanFigure(limits, pairs, { acceptable: 0.5 }),
  ),
  one("difference-panels", 300, [limits, pairs], [limits.bias, limits.upper], () =>
    figures.differencePanelsFigure(
      [
        { label: "M", agreement: limits, points: pairs },
        { label: "J0", agreement: limits, points: { ...pairs, test: pairs.reference } },
        { label: "J45", agreement: limits },
      ],
      { acceptable: 0.5 },
    ),
  ),
  one("difference-panels-eyes", 300, [limits, pairs], [limits.bias, limits.upper], () =>
    figures.differencePanelsFigure(
      ["Ashmere", "Brookfield", "Corvale", "Dellwater"].map((label, at) => ({
        label,
        agreement: limits,
        points: { test: pairs.test, reference: pairs.reference.map((value) => value * (1 + at)) },
      })),
      journal,
    ),
  ),
  one("double-angle", 300, [ellipses, vectors], spoken, () =>
    figures.doubleAngleFigure([{ label: "right eyes", n: 300, ellipses, points: vectors }]),
  ),
  one("double-angle-two", 300, [ellipses, vectors], spoken, () =>
    figures.doubleAngleFigure(
      [
        { label: "right eyes", n: 300, ellipses, points: vectors },
        { label: "left eyes", n: 300, ellipses, points: vectors },
      ],
      journal,
    ),
  ),
  one(
    "folded-differences",
    300,
    [percentiles, pairs],
    [percentiles.median, percentiles.upper],
    () => figures.foldedDifferencesFigure(percentiles, pairs),
  ),
  one("method-regression", 300, [line, pairs], [line.slope, line.intercept], () =>
    figures.methodRegressionFigure({ Deming: line }, pairs, { range: [-4, 3] }),
  ),
  one("calibration", 300, [calibration, pairs], [calibration.slope, calibration.intercept], () =>
    figures.calibrationFigure(calibration, pairs),
  ),
  one("repeatability", 600, [repeats, units], [repeats.withinSd, repeats.coefficient], () =>
    figures.repeatabilityFigure(repeats, units),
  ),
  one("bias-by-age-years", 305, [biasGroups], [biasGroups.groups[1].bias], () =>
    figures.biasByFigure(biasGroups),
  ),
  one(
    "bias-by-age-years-every-group",
    305,
    [biasGroups],
    biasGroups.groups.map(({ bias }) => bias),
    () => figures.biasByFigure(biasGroups, journal),
  ),
  one(
    "vector-projections",
    300,
    [vectorResult, vectors],
    Object.values(vectorResult.limits).map(({ bias }) => bias),
    () => figures.vectorProjectionsFigure(vectorResult, vectors),
  ),
  one("score-trade-off", 300, [tradeoff], lastRates, () => figures.scoreTradeoffFigure(tradeoff)),
  one("score-trade-off-small", 300, [smallTradeoff], [0.3, 8], () =>
    figures.scoreTradeoffFigure(smallTradeoff),
  ),
  one("roc", 300, [curve, area, band, partial], [area, partial.raw, partial.standardised], () =>
    figures.rocFigure(curve, area, {
      marked: [
        { cutOff: -2, origin: "pre-specified" },
        { cutOff: -2.25, origin: "chosen" },
      ],
      band,
      partial,
    }),
  ),
  one(
    "roc-crosses",
    300,
    [curve, crosses],
    [crossAt.sensitivity, crossAt.specificity, ...atLimit(-2).slice(0, 1)],
    () =>
      figures.rocFigure(curve, undefined, {
        ...journal,
        marked: [{ cutOff: -2, origin: "pre-specified", accuracy: crossAt }],
      }),
  ),
  one("roc-every-point", 300, [curve, area, partialUp], [area, ...atLimit(-2).slice(0, 3)], () =>
    figures.rocFigure(curve, area, {
      ...journal,
      partial: partialUp,
      marked: [
        { cutOff: -2, origin: "pre-specified" },
        { cutOff: -2.25, origin: "chosen" },
      ],
    }),
  ),
  one("limit", 300, [curve, crosses], [crossAt.sensitivity, crossAt.specificity], () =>
    figures.limitFigure(curve, crosses, { limit: -2, ...journal }),
  ),
  one("limit-public", 300, [curve, crosses], [], () =>
    figures.limitFigure(curve, crosses, { limit: -1.875 }),
  ),
  one("linked", 300, [linked], [], () =>
    figures.linkedFigures({ ...linked, ...journal }, ["difference", "double-angle", "age"]),
  ),
  one("linked-public", 300, [linked], [], () => figures.linkedFigures(linked)),
  one("rates-along-limit", 300, [curve], atLimit(-2), () =>
    figures.ratesAlongLimitFigure(curve, { limit: -2, ...journal }),
  ),
  one("rates-along-limit-public", 300, [curve], [], () =>
    figures.ratesAlongLimitFigure(curve, { limit: -2 }),
  ),
  one(
    "cut-off-distribution",
    300,
    [choice],
    [
      choice.cutOff,
      choice.distribution[2].share,
      choice.correctedIntervals.sensitivity,
      choice.correctedIntervals.specificity,
    ],
    () => figures.cutOffFigure(choice),
  ),
  one(
    "rule-front-placed",
    300,
    [front, chosen, inUse],
    [chosen.sensitivity, chosen.specificity, inUse.sensitivity, inUse.specificity],
    () => figures.ruleFrontFigure(front, { ...journal, chosen, placed: [inUse] }),
  ),
  one(
    "instrument-comparison",
    12,
    [instruments],
    [instruments.instruments[0].agreement.bias.value!, instruments.pairs[0].agreement.upper.value!],
    () => figures.instrumentComparisonFigure(instruments),
  ),
  one("limit-ranges", 300, [front], [1, 1, 1.5, 3], () =>
    figures.limitRangesFigure({
      n: 300,
      criteria: ["sphere", "cylinder"],
      limits: { sphere: 1, cylinder: null },
      plateau: {
        rules: front.points.slice(0, 2),
        ranges: {
          sphere: { lowest: 0.5, highest: 1.5 },
          cylinder: { lowest: 2, highest: null },
        },
        alone: { sphere: { lowest: 1, highest: 1.5 }, cylinder: { lowest: 3, highest: null } },
        criticalValue: 2.4,
        compared: 12,
        level: 0.95,
      },
    }),
  ),
  one("rule-front", 300, [front, chosen], [front.ruleCount, front.points.length], () =>
    figures.ruleFrontFigure(front, { chosen, plateau: front.points.slice(0, 2) }),
  ),
  one("limit-heat-map-sensitivity", 300, [space, chosen], [chosen.sensitivity], () =>
    figures.limitHeatMapFigure(space, { chosen: chosen.limits, ...journal }),
  ),
  one("limit-heat-map-specificity", 300, [space, chosen], [9], () =>
    figures.limitHeatMapFigure(space, { chosen: chosen.limits, show: "specificity" }),
  ),
  one(
    "predictive-values",
    300,
    [predictive],
    [predictive.points[0]!.positivePredictiveValue, predictive.points[2]!.negativePredictiveValue],
    () => figures.predictiveValuesFigure(predictive, { n: 300 }),
  ),
  one("net-benefit", 300, [benefit], [benefit.points[1]!.netBenefit], () =>
    figures.netBenefitFigure(benefit),
  ),
  one(
    "forest",
    320,
    [sites],
    sites.map((site) => site.estimate),
    () => figures.forestFigure(sites, { quantity: "sensitivity", unit: "", grouping: "site" }),
  ),
  one("forest-small", 390, [smallSites], [smallSites[2].estimate, smallSites[3].estimate], () =>
    figures.forestFigure(smallSites, { quantity: "sensitivity", unit: "", grouping: "site" }),
  ),
  one(
    "interval-match",
    115,
    [match],
    [57 / 1.15, 41, 60, 100 * match.matches[0]!.low, 100 * match.nearest[0]!.high],
    () => figures.intervalMatchFigure(match),
  ),
  one(
    "verification-bounds",
    500,
    [bounds, corrected],
    [...Object.values(corrected), bounds.sensitivity.low, bounds.sensitivity.high],
    () => figures.verificationBoundsFigure(bounds, { n: 500, estimates: corrected }),
  ),
  one("participant-flow", 300, [flow], [253, 120, 133], () => figures.flowFigure(flow)),
  one(
    "participant-flow-every-step",
    300,
    [flow],
    flow.boxes.map(({ children }) => children),
    () => figures.flowFigure(flow, journal),
  ),
  one("examined-and-not-examined", 600, [byExam], quartiles(byExam), () =>
    figures.examinedFigure(byExam),
  ),
  one("refraction-by-age", 300, [byAge], quartiles(byAge).slice(0, 6), () =>
    figures.refractionByAgeFigure(byAge),
  ),
  one("share-histogram", 304, [byAge], quartiles(byAge), () =>
    figures.shareHistogramFigure(byAge, { quantity: "sphere", ...journal }),
  ),
  one(
    "outcomes-per-thousand",
    1000,
    [screenedThousand],
    screenedThousand.parts.map(({ words }) => Number(/^\d+/.exec(words))),
    () => figures.outcomesPerThousandFigure([screenedThousand], { condition: "Hyperopia" }),
  ),
  one("outcomes-per-thousand-open", 1000, [coarseThousand, blindThousand], [], () =>
    figures.outcomesPerThousandFigure([coarseThousand, blindThousand]),
  ),
  one("referral-reasons", 119, [reasons], [60, 40], () => figures.referralReasonsFigure(reasons)),
  one(
    "referral-reasons-every",
    119,
    [reasons],
    reasons.map(({ children }) => children),
    () => figures.referralReasonsFigure(reasons, journal),
  ),
  one(
    "referred-against-found",
    94,
    [found],
    found.map(({ children }) => children),
    () => figures.referredAgainstFoundFigure(found, journal),
  ),
  one("referred-against-found-public", 94, [found], [], () =>
    figures.referredAgainstFoundFigure(found),
  ),
  one(
    "study-size-precision",
    183,
    [precisionPlan],
    [precisionPlan.planned!.sensitivity, precisionPlan.planned!.specificity],
    () => figures.planFigure(precisionPlan),
  ),
  one("study-size-power", 48, [powerPlan], [powerPlan.planned!.power], () =>
    figures.planFigure(powerPlan),
  ),
  one("funnel-referred-by-site", funnel.n, [funnel], [100 * funnel.share], () =>
    figures.funnelFigure(funnel),
  ),
  one(
    "programme-comparison",
    years.programmes[0].n + years.programmes[1].n,
    [years],
    [moreReferred.difference, moreReferred.standardised].map((difference) =>
      estimateOf(linearEstimate(difference, 100)),
    ),
    () => figures.programmeComparisonFigure(years),
  ),
];

function estimateOf(found: Estimate | { readonly kind: "undefined" }): Estimate {
  if (found.kind === "undefined") throw new Error("the case has no estimate");
  return found;
}
