import { describe, expect, it } from "vitest";
import {
  accuracyAtCutOffs,
  areasByAgeBand,
  areaUnderCurve,
  areaUnderCurveOnThreads,
  binormalCurve,
  chooseThreshold,
  compareAreas,
  compareIndependentAreas,
  compareInstruments,
  compareSeveralAreas,
  partialArea,
  rocCurve,
  scoreTradeoff,
  sensitivityAtRates,
  thresholdsByAgeBand,
  validateThreshold,
} from "../../src/thresholds/index.js";
import { known } from "./data.js";

const many = Array.from({ length: 12 }, (_, row) => row);
const values = many.map((row) => ((row * 7) % 12) / 2);
const condition = many.map((row) => (row * 7) % 12 > 5 !== (row % 5 === 0));
const data = { values, condition };
const subjects = many.map((row) => row >> 1);
const clusters = { subject: subjects, site: many.map((row) => (row >> 1) % 3) };
const examination = { examined: many.map(() => 1), strata: many.map(() => "all") };
const weights = many.map((row) => 1 + (row % 2));
const high = { positiveWhen: "high" } as const;
const bands = [{ fromMonths: 0, toMonths: 100 }];
const score = { test: values, reference: many, confidenceScore: many, condition };
const toScore = { betterWhen: "high", positiveWhen: "high", cutOff: 3 } as const;
const toChoose = {
  ...high,
  criterion: "youden",
  seed: 1,
  replicates: 2,
  nested: { outer: 0, inner: 0 },
  folds: 2,
} as const;
const choose = (more: object, rows: object = {}) =>
  chooseThreshold({ ...data, ...rows }, { ...toChoose, ...more });
const two = { first: values, second: many, condition };

/** Every function of values and a condition. */
const ofRows: Record<string, (rows: typeof data, options: object) => unknown> = {
  areasByAgeBand: (rows, options) =>
    areasByAgeBand({ ...rows, ageMonths: rows.values }, { ...high, bands, ...options }),
  areaUnderCurve: (rows, options) => areaUnderCurve(rows, { ...high, ...options }),
  areaUnderCurveOnThreads: (rows, options) =>
    areaUnderCurveOnThreads(rows, { ...high, seed: 1, replicates: 2, workers: 1, ...options }),
  binormalCurve: (rows, options) => binormalCurve(rows, { ...high, ...options }),
  chooseThreshold: (rows, options) => chooseThreshold(rows, { ...toChoose, ...options }),
  rocCurve: (rows, options) => rocCurve(rows, { ...high, ...options }),
  sensitivityAtRates: (rows, options) =>
    sensitivityAtRates(rows, {
      ...high,
      falsePositiveRates: [0.5],
      seed: 1,
      replicates: 2,
      ...options,
    }),
  thresholdsByAgeBand: (rows, options) =>
    thresholdsByAgeBand(
      { ...rows, ageMonths: rows.values },
      { ...toChoose, bands, permutations: 19, ...options },
    ),
  validateThreshold: (rows, options) => validateThreshold(rows, { ...high, cutOff: 3, ...options }),
};

const failing = async (call: () => unknown) => {
  try {
    await call();
  } catch (error) {
    return (error as Error).message;
  }
  throw new Error("nothing was refused");
};

describe.each(Object.entries(ofRows))("%s", (name, call) => {
  it("names itself, the column and the row", async () => {
    await call(data, {});
    expect(await failing(() => call({ values: values.slice(1), condition }, {}))).toMatch(
      new RegExp(`^${name} requires .*11.*12|^${name} requires .*12.*11`),
    );
    expect(
      await failing(() => call({ values: values.with(4, Number.NaN), condition }, {})),
    ).toMatch(new RegExp(`^${name} requires finite numbers in values, got NaN in row 4`));
    expect(
      await failing(() => call({ values, condition: condition.with(3, 2 as never) }, {})),
    ).toMatch(new RegExp(`^${name} requires .*condition.*2.*row 3`));
    expect(await failing(() => call(data, { positiveWhen: "up" }))).toMatch(
      /requires positiveWhen: "high" or "low", got up$/,
    );
  });
});

const level = (call: (level: number) => unknown) => [0, 1].map((one) => () => call(one));
it.each([
  ["areaUnderCurve", level((one) => areaUnderCurve(data, { ...high, level: one }))],
  ["binormalCurve", level((one) => binormalCurve(data, { ...high, level: one }))],
  ["chooseThreshold", level((one) => choose({ level: one }))],
  ["chooseThreshold", level((one) => choose({ assurance: one }))],
  ["compareAreas", level((one) => compareAreas(two, { ...high, level: one }))],
  [
    "compareIndependentAreas",
    level((one) => compareIndependentAreas({ first: data, second: data }, { ...high, level: one })),
  ],
  [
    "compareInstruments",
    level((one) =>
      compareInstruments({ instruments: { a: values, b: many }, reference: many }, { level: one }),
    ),
  ],
  ["sensitivityAtRates", level((one) => ofRows.sensitivityAtRates(data, { level: one }))],
  [
    "validateThreshold",
    level((one) =>
      validateThreshold({ ...data, weights }, { ...high, cutOff: 3, seed: 1, level: one }),
    ),
  ],
] as const)("%s: a level between 0 and 1", async (name, calls) => {
  for (const call of calls) {
    expect(await failing(call)).toMatch(
      new RegExp(`^${name} requires a level between 0 and 1, got [01]`),
    );
  }
});

const refusals: [says: string, call: () => unknown][] = [
  [
    "accuracyAtCutOffs requires a curve of counts, got one of weights",
    () => accuracyAtCutOffs(rocCurve({ ...data, weights }, high)),
  ],
  [
    'areaUnderCurve requires variance: "delong" where subjects repeat or rows are weighted, got "hanley-mcneil"',
    () => areaUnderCurve({ ...data, subjects }, { ...high, variance: "hanley-mcneil" }),
  ],
  [
    'areaUnderCurve requires variance: "delong" where subjects repeat or rows are weighted, got "hanley-mcneil"',
    () => areaUnderCurve({ ...data, weights }, { ...high, variance: "hanley-mcneil" }),
  ],
  [
    'areaUnderCurve requires the interval of the jackknife over sites with clusters, got interval "plain"; leave the option out',
    () => areaUnderCurve({ ...data, clusters }, { ...high, interval: "plain" }),
  ],
  [
    'areaUnderCurve requires the interval of the jackknife over sites with clusters, got variance "delong"; leave the option out',
    () => areaUnderCurve({ ...data, clusters }, { ...high, variance: "delong" }),
  ],
  [
    'areaUnderCurve requires interval: "bootstrap" with a seed here, got undefined and undefined',
    () => areaUnderCurve({ ...data, examination }, high),
  ],
  [
    'areaUnderCurve requires interval: "bootstrap" with a seed here, got "bootstrap" and undefined',
    () => areaUnderCurve({ ...data, examination }, { ...high, interval: "bootstrap" }),
  ],
  [
    "areaUnderCurve requires replicates as a whole number of at least 2, got 1",
    () => areaUnderCurve(data, { ...high, interval: "bootstrap", seed: 1, replicates: 1 }),
  ],
  [
    "areaUnderCurve requires seed as a whole number, got 1.5",
    () => areaUnderCurve(data, { ...high, interval: "bootstrap", seed: 1.5 }),
  ],
  [
    'areaUnderCurveOnThreads requires subjects, got clusters with sites, which it cannot respect; take the interval "logit" of areaUnderCurve',
    () => areaUnderCurveOnThreads({ ...data, clusters }, { ...high, seed: 1 }),
  ],
  [
    "areaUnderCurve requires weights or examination, got both",
    () =>
      areaUnderCurve(
        { ...data, weights, examination },
        { ...high, interval: "bootstrap", seed: 1 },
      ),
  ],
  [
    "areaUnderCurve requires each child (site) in one stratum, got one in several",
    () =>
      areaUnderCurve(
        { ...data, subjects, strata: many },
        { ...high, interval: "bootstrap", seed: 1 },
      ),
  ],
  [
    "binormalCurve requires 3 to 60 distinct values, got 2",
    () => binormalCurve({ values: [1, 2, 1, 2], condition: [0, 1, 1, 0] }, high),
  ],
  [
    'chooseThreshold requires constraint "observed" or "assured", got "kept"',
    () => choose({ constraint: "kept" }),
  ],
  [
    "chooseThreshold requires replicates as a whole number of at least 2, got 1",
    () => choose({ replicates: 1 }),
  ],
  [
    "chooseThreshold requires folds as a whole number of at least 2, got 1",
    () => choose({ folds: 1 }),
  ],
  [
    "chooseThreshold requires repeats as a whole number of at least 1, got 0",
    () => choose({ repeats: 0 }),
  ],
  [
    "chooseThreshold requires at most a fold a child, got 13 folds for 12 children",
    () => choose({ folds: 13 }),
  ],
  [
    "chooseThreshold requires at most a fold a site, got 4 folds for 3 sites",
    () => choose({ folds: 4 }, { clusters }),
  ],
  [
    'chooseThreshold requires unweighted rows for constraint "assured", got known weights',
    () => choose({ constraint: "assured", criterion: { sensitivityAtLeast: 0.5 } }, { weights }),
  ],
  [
    'chooseThreshold requires subjects for constraint "assured", whose test takes children as independent, got clusters with sites; take constraint "observed"',
    () => choose({ constraint: "assured", criterion: { sensitivityAtLeast: 0.5 } }, { clusters }),
  ],
  [
    'chooseThreshold requires criterion { sensitivityAtLeast } or { specificityAtLeast } for constraint "assured", got "youden"',
    () => choose({ constraint: "assured" }),
  ],
  [
    'chooseThreshold requires a cut-off that meets the constraint, got none for {"sensitivityAtLeast":0.9}',
    () => choose({ criterion: { sensitivityAtLeast: 0.9 }, cutOffs: [99] }),
  ],
  ["chooseThreshold requires finite cutOffs, got []", () => choose({ cutOffs: [] })],
  [
    "chooseThreshold requires finite cutOffs, got [1, NaN]",
    () => choose({ cutOffs: [1, Number.NaN] }),
  ],
  [
    'chooseThreshold requires criterion: "youden", { sensitivityAtLeast }, { specificityAtLeast }, { leastCost } or { netBenefitAt }, got {"most":1}',
    () => choose({ criterion: { most: 1 } }),
  ],
  ...["sensitivityAtLeast", "specificityAtLeast", "netBenefitAt"].flatMap((name) =>
    [0, 1].map((one): [string, () => unknown] => [
      `chooseThreshold requires ${name} between 0 and 1, got ${one}`,
      () => choose({ criterion: { [name]: one } }),
    ]),
  ),
  [
    "chooseThreshold requires prevalence between 0 and 1, got 1",
    () => choose({ criterion: { netBenefitAt: 0.5, prevalence: 1 } }),
  ],
  [
    "chooseThreshold requires prevalence between 0 and 1, got 0",
    () =>
      choose({
        criterion: { leastCost: { prevalence: 0, costOfMiss: 1, costOfFalseReferral: 1 } },
      }),
  ],
  ...["costOfMiss", "costOfFalseReferral"].flatMap((name) =>
    [-1, Number.POSITIVE_INFINITY, Number.NaN].map((one): [string, () => unknown] => [
      `chooseThreshold requires ${name} of 0 or more, got ${one}`,
      () =>
        choose({
          criterion: {
            leastCost: { prevalence: 0.1, costOfMiss: 1, costOfFalseReferral: 1, [name]: one },
          },
        }),
    ]),
  ),
  [
    "chooseThreshold requires rows with and rows without the condition, got 12 with and 0 without",
    () => choose({}, { condition: many.map(() => 1) }),
  ],
  [
    "compareAreas requires 2 directions, got 1",
    () => compareAreas(two, { positiveWhen: ["high"] as never }),
  ],
  [
    "compareAreas requires finite numbers in second, got NaN in row 2",
    () => compareAreas({ ...two, second: values.with(2, Number.NaN) }, high),
  ],
  [
    "compareIndependentAreas requires two areas, got one undefined: all values are tied: they tell nothing apart",
    () =>
      compareIndependentAreas(
        { first: data, second: { values: many.map(() => 1), condition } },
        high,
      ),
  ],
  [
    "compareIndependentAreas requires different children in the two groups, got 6 in both",
    () =>
      compareIndependentAreas(
        { first: { ...data, subjects }, second: { ...data, subjects } },
        high,
      ),
  ],
  [
    "compareIndependentAreas requires subjects, got clusters with sites, which it cannot respect; give the area of each group with clusters by areaUnderCurve",
    () => compareIndependentAreas({ first: { ...data, clusters } as never, second: data }, high),
  ],
  [
    "compareInstruments requires at least 2 instruments, got 1; for one, use limitsOfAgreement",
    () => compareInstruments({ instruments: { a: many }, reference: many }),
  ],
  [
    "compareSeveralAreas requires at least 2 tests, got 1",
    () => compareSeveralAreas({ values: { a: values }, condition }, high),
  ],
  [
    "compareSeveralAreas requires at least 2 children, got 1",
    () =>
      compareSeveralAreas(
        { values: { a: values, b: many }, condition, subjects: many.map(() => 1) },
        high,
      ),
  ],
  [
    "compareSeveralAreas requires subjects, got clusters with sites, which it cannot respect; compare two at a time with compareAreas",
    () =>
      compareSeveralAreas({ values: { a: values, b: many }, condition, clusters } as never, high),
  ],
  [
    "partialArea requires one of falsePositiveRate or truePositiveRate, got none",
    () => partialArea(rocCurve(data, high), {}),
  ],
  [
    "partialArea requires one of falsePositiveRate or truePositiveRate, got both",
    () =>
      partialArea(rocCurve(data, high), { falsePositiveRate: [0, 1], truePositiveRate: [0, 1] }),
  ],
  [
    "partialArea requires a range [low, high] within 0 and 1, got [0.5, 0.5]",
    () => partialArea(rocCurve(data, high), { falsePositiveRate: [0.5, 0.5] }),
  ],
  ...(["test", "reference", "confidenceScore"] as const).map((name): [string, () => unknown] => [
    `scoreTradeoff requires ${name === "confidenceScore" ? "numbers (NaN where missing)" : "finite numbers"} in ${name}, got`,
    () => scoreTradeoff({ ...score, [name]: values.with(1, "x" as never) }, toScore),
  ]),
  [
    "scoreTradeoff requires finite numbers in confidenceScore (NaN where missing), got Infinity in row 5",
    () =>
      scoreTradeoff(
        { ...score, confidenceScore: values.with(5, Number.POSITIVE_INFINITY) },
        toScore,
      ),
  ],
  [
    "scoreTradeoff requires at least 1 row, got none",
    () => scoreTradeoff({ test: [], reference: [], confidenceScore: [], condition: [] }, toScore),
  ],
  ...[[], undefined, [1.5], [0.5, -0.1]].map((falsePositiveRates): [string, () => unknown] => [
    `sensitivityAtRates requires falsePositiveRates from 0 to 1, got [${falsePositiveRates}]`,
    () => ofRows.sensitivityAtRates(data, { falsePositiveRates }),
  ]),
  [
    "sensitivityAtRates requires replicates as a whole number of at least 2, got 1",
    () => ofRows.sensitivityAtRates(data, { replicates: 1 }),
  ],
  [
    "thresholdsByAgeBand requires permutations as a whole number of at least 19, got 18",
    () => ofRows.thresholdsByAgeBand(data, { permutations: 18 }),
  ],
  [
    "thresholdsByAgeBand requires subjects, got clusters with sites, which it cannot respect; choose in each band with chooseThreshold, which takes clusters",
    () => ofRows.thresholdsByAgeBand({ ...data, clusters } as never, {}),
  ],
  [
    "validateThreshold requires a finite cutOff, got NaN",
    () => validateThreshold(data, { ...high, cutOff: Number.NaN }),
  ],
  [
    "validateThreshold requires a whole seed where rows are weighted, got 1.5",
    () => validateThreshold({ ...data, weights }, { ...high, cutOff: 3, seed: 1.5 }),
  ],
  [
    "validateThreshold requires replicates as a whole number of at least 2, got 1",
    () => validateThreshold({ ...data, weights }, { ...high, cutOff: 3, seed: 1, replicates: 1 }),
  ],
  [
    "validateThreshold requires clusters without seed, got 1; leave it out: the jackknife over sites draws nothing",
    () => validateThreshold({ ...data, weights, clusters }, { ...high, cutOff: 3, seed: 1 }),
  ],
  ...(["verification", "sampling", "prevalence"] as const).map((name): [string, () => unknown] => [
    `validateThreshold requires weighted rows without ${name}, which their weights already state, got x`,
    () =>
      validateThreshold({ ...data, weights }, {
        ...high,
        cutOff: 3,
        seed: 1,
        [name]: "x",
      } as never),
  ]),
];

it.each(refusals)("refused: %s", async (says, call) => {
  expect(await failing(call)).toContain(says);
});

const tied = { values: many.map(() => 1), condition };
const reasons: [reason: string, found: () => unknown][] = [
  [
    "no row has the condition",
    () => areaUnderCurve({ values, condition: many.map(() => 0) }, high),
  ],
  [
    "no row is without the condition",
    () => areaUnderCurve({ values, condition: many.map(() => 1) }, high),
  ],
  [
    "no row has the condition",
    () => areaUnderCurve({ values, clusters, condition: many.map(() => 0) }, high),
  ],
  [
    "no row is without the condition",
    () => areaUnderCurve({ values, clusters, condition: many.map(() => 1) }, high),
  ],
  ["all values are tied: they tell nothing apart", () => areaUnderCurve(tied, high)],
  [
    "all values are tied: they tell nothing apart",
    () => areaUnderCurve({ ...tied, clusters }, high),
  ],
  [
    "fewer than two children have, or lack, the condition",
    () => areaUnderCurve({ values, condition: many.map((row) => row === 1) }, high),
  ],
  [
    "the difference of the areas has no variance in these rows",
    () => compareAreas({ ...two, second: values }, high).difference,
  ],
  [
    "no reading is left",
    () => scoreTradeoff(score, { ...toScore, scoreLimits: [99] }).steps[1].accuracy,
  ],
  [
    "fewer than 3 children are left",
    () => scoreTradeoff(score, { ...toScore, scoreLimits: [10] }).steps[1].agreement,
  ],
  [
    "fewer than 20 nested replicates: no interval of corrected values",
    async () => (await choose({})).correctedIntervals.sensitivity,
  ],
  [
    "fewer than 40 sites: their bootstrap gives no interval that holds",
    async () => (await choose({}, { clusters })).correctedIntervals.youdenIndex,
  ],
];

it.each(reasons)("undefined: %s", async (reason, found) => {
  expect(await found()).toEqual({ kind: "undefined", reason });
});

it("tests that are copies: no chi-square", () => {
  const copies = compareSeveralAreas({ values: { a: values, b: values }, condition }, high);
  expect(copies).toMatchObject({ kind: "several-areas", chiSquare: null, df: 0, p: null });
});

it("a part of the area says over which axis", () => {
  const curve = rocCurve(data, high);
  expect(partialArea(curve, { falsePositiveRate: [0, 0.5] }).axis).toBe("falsePositiveRate");
  expect(partialArea(curve, { truePositiveRate: [0.5, 1] }).axis).toBe("truePositiveRate");
});

it("the table of a score says what it is and is not", () => {
  const found = scoreTradeoff(score, toScore);
  expect(found).toMatchObject({ kind: "score-tradeoff", n: 12, subjects: 12, unscored: 0 });
  expect(found.notes).toEqual([
    "A child without a reading is not a pass: the lost are in none of the accuracy figures.",
    "A limit chosen from this table was chosen on these rows; test it on others.",
  ]);
});

describe("notes of a choice", () => {
  const folds = "A fold or a training part lacked a class: take fewer folds.";
  const rows = "Rows were taken as independent children.";
  it("folds without a class, rows without subjects, each only where they are", async () => {
    const thrice = {
      values: [values, values, values].flat(),
      condition: [condition, condition, condition].flat(),
    };
    const plain = await choose({}, thrice);
    expect(plain.notes).toContain(rows);
    expect(plain.notes).not.toContain(folds);
    expect((await choose({}, { subjects })).notes).not.toContain(rows);
    const lone = { condition: many.map((row) => row === 1) };
    const without = await choose({ folds: 12, replicates: 40 }, lone);
    expect(without.crossValidated).toBeNull();
    expect(without.notes).toContain(folds);
  });
});

describe("weighted rates", () => {
  const run = { ...high, seed: 2, replicates: 60, cutOff: 3 } as const;
  const children = many.map((row) => row % 6);

  it("say whose rows were drawn", () => {
    const alone = validateThreshold({ ...data, weights }, run);
    expect(alone).not.toHaveProperty("subjects");
    expect(alone.accuracy).toMatchObject({
      method: "bootstrap of rows",
      weighting: "known",
      notes: ["The weights are taken as known.", "Rows were taken as independent children."],
    });
    expect(known(alone.accuracy.prevalence).method).toBe("bootstrap-percentile");
    const pairs = validateThreshold({ ...data, examination, subjects: children }, run);
    expect(pairs.subjects).toBe(6);
    expect(pairs.accuracy).toMatchObject({
      method: "bootstrap of children",
      weighting: "examination",
      examined: 12,
      notes: [
        "Examined rows stand for the unexamined of their stratum: right only if examination was random within it.",
      ],
    });
    expect(known(pairs.accuracy.prevalence).method).toBe("cluster-bootstrap-percentile");
  });

  // Wilson's limit of m of m is m / (m + z²), m the effective rows, at most the children behind them
  it.each([
    ["sensitivity", [1, 1, 0, 0, 0, 0], [5, 6, 1, 2, 6, 1], [1, 3]],
    ["specificity", [1, 1, 0, 0, 0, 0], [5, 1, 1, 2, 2, 1], [2, 1, 2, 1]],
    ["positivePredictiveValue", [1, 1, 1, 0, 0, 0], [5, 6, 1, 1, 2, 2], [1, 3]],
    ["negativePredictiveValue", [1, 1, 0, 0, 0, 0], [5, 6, 9, 1, 2, 2], [1, 2, 1]],
  ] as const)("%s of 1: effective rows of its own denominator", (name, has, at, own) => {
    const found = validateThreshold(
      { values: at, condition: has, weights: [1, 3, 2, 1, 2, 1] },
      { ...run, cutOff: 3 },
    );
    const estimate = known(found.accuracy[name]);
    const m =
      own.reduce((sum: number, one) => sum + one, 0) ** 2 /
      own.reduce((sum: number, one) => sum + one * one, 0);
    expect(estimate.value).toBe(1);
    expect(estimate.low).toBeCloseTo(m / (m + 1.959963984540054 ** 2), 10);
    expect(estimate.method).toBe("wilson-effective-rows");
  });

  it("rows of one child count as one", () => {
    const found = validateThreshold(
      {
        values: [5, 6, 7, 1, 2, 5],
        condition: [1, 1, 1, 0, 0, 0],
        weights: [1, 1, 1, 1, 1, 1],
        subjects: [1, 1, 2, 3, 4, 5],
      },
      { ...run, cutOff: 3 },
    );
    expect(known(found.accuracy.sensitivity).low).toBeCloseTo(2 / (2 + 1.959963984540054 ** 2), 10);
  });
});
