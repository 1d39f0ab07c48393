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
  instrumentTable,
  partialArea,
  rocCurve,
  scoreTradeoff,
  sensitivityAtRates,
  thresholdsByAgeBand,
  validateThreshold,
} from "../../src/thresholds/index.js";
import { prepareRows, valueCountsOf } from "../../src/thresholds/prepareRows.js";
import { known } from "./data.js";

const many = Array.from({ length: 24 }, (_, row) => row);
const values = many.map((row) => ((row * 7) % 12) / 2);
const condition = many.map((row) => (row * 7) % 12 > 5 !== (row % 5 === 0));
const data = { values, condition };
const subjects = many.map((row) => row >> 1);
const clusters = { subject: subjects, site: many.map((row) => (row >> 1) % 3) };
const weights = many.map((row) => 1 + (row % 2));
const high = { positiveWhen: "high" } as const;
const bands = [{ fromMonths: 0, toMonths: 100 }];
const toChoose = {
  ...high,
  criterion: "youden",
  seed: 1,
  replicates: 2,
  nested: { outer: 0, inner: 0 },
  folds: 2,
} as const;
const two = { first: values, second: many, condition };

it.each([
  ["area", () => areaUnderCurve(data, high), { kind: "estimate", method: "delong-logit-t" }],
  [
    "area by children",
    () => areaUnderCurve({ ...data, subjects }, high),
    { kind: "estimate", method: "obuchowski-logit-t", subjects: 12 },
  ],
  [
    "area, weighted",
    () => areaUnderCurve({ ...data, weights }, high),
    { kind: "estimate", method: "weighted-delong-logit-t" },
  ],
  [
    "area, plain",
    () => areaUnderCurve(data, { ...high, interval: "plain" }),
    { kind: "estimate", method: "delong" },
  ],
  [
    "area of print",
    () => areaUnderCurve(data, { ...high, variance: "hanley-mcneil" }),
    { method: "hanley-mcneil-logit" },
  ],
  [
    "area by sites",
    () => areaUnderCurve({ ...data, clusters }, high),
    { kind: "estimate", method: "site-jackknife-rough", sites: 3, subjects: 12, n: 24 },
  ],
  [
    "area by bootstrap",
    () => areaUnderCurve(data, { ...high, interval: "bootstrap", seed: 1, replicates: 50 }),
    { kind: "estimate", method: "bootstrap-percentile" },
  ],
  [
    "area on threads",
    () => areaUnderCurveOnThreads(data, { ...high, seed: 1, replicates: 50, workers: 1 }),
    { kind: "estimate", method: "bootstrap-percentile", seed: 1, replicates: 50, failed: 0 },
  ],
  [
    "bands",
    () => areasByAgeBand({ ...data, ageMonths: values }, { ...high, bands }),
    { kind: "areas-by-age-band", n: 24, outside: 0 },
  ],
  [
    "binormal",
    () => binormalCurve(data, high),
    {
      kind: "binormal-curve",
      method: "maximum likelihood",
      categories: 12,
      n: 24,
      area: { method: "maximum likelihood, normal scale" },
      a: { kind: "estimate", method: "maximum likelihood" },
    },
  ],
  [
    "two areas",
    () => compareAreas(two, high),
    { kind: "area-comparison", design: "paired", method: "delong", n: 24 },
  ],
  [
    "two areas by children",
    () => compareAreas({ ...two, subjects }, high),
    { method: "obuchowski", subjects: 12 },
  ],
  [
    "two areas by sites",
    () => compareAreas({ ...two, clusters }, high),
    { kind: "area-comparison", design: "paired", method: "site-jackknife", correlation: null },
  ],
  [
    "two groups",
    () => compareIndependentAreas({ first: data, second: data }, high),
    {
      kind: "area-comparison",
      design: "unpaired",
      method: "sum of variances",
      correlation: 0,
      n: 48,
      difference: { value: 0 },
    },
  ],
  [
    "several areas",
    () => compareSeveralAreas({ values: { a: values, b: many }, condition }, high),
    { kind: "several-areas", method: "delong", tests: ["a", "b"], df: 1 },
  ],
  [
    "part of an area",
    () => partialArea(rocCurve(data, high), { falsePositiveRate: [0, 1] }),
    { kind: "partial-area", method: "trapezoids", chance: 0.5, perfect: 1, low: 0, high: 1, n: 24 },
  ],
  ["curve", () => rocCurve(data, high), { kind: "roc-curve", n: 24 }],
  [
    "crosses",
    () => accuracyAtCutOffs(rocCurve(data, high)),
    { kind: "accuracy-at-cut-offs", method: "wilson", level: 0.95, n: 24 },
  ],
  [
    "band of sensitivity",
    () => sensitivityAtRates(data, { ...high, falsePositiveRates: [0.5], seed: 1, replicates: 20 }),
    { kind: "sensitivity-band", method: "bootstrap of rows", level: 0.95 },
  ],
  [
    "band by sites",
    () =>
      sensitivityAtRates(
        { ...data, clusters },
        { ...high, falsePositiveRates: [0.5], seed: 1, replicates: 20 },
      ),
    { kind: "sensitivity-band", method: "site-jackknife", sites: 3, subjects: 12 },
  ],
  [
    "choice",
    () => chooseThreshold(data, toChoose),
    {
      kind: "threshold-choice",
      method: "bootstrap of rows",
      label: "cut-off chosen on these rows; validate it on others",
      weighting: "none",
      constraint: null,
    },
  ],
  [
    "choice by children",
    () => chooseThreshold({ ...data, subjects }, toChoose),
    { method: "bootstrap of children", subjects: 12 },
  ],
  [
    "choice by sites",
    () => chooseThreshold({ ...data, clusters }, toChoose),
    { method: "bootstrap of sites", sites: 3 },
  ],
  [
    "choice in bands",
    () =>
      thresholdsByAgeBand({ ...data, ageMonths: values }, { ...toChoose, bands, permutations: 19 }),
    {
      kind: "thresholds-by-age-band",
      oneForAll: { method: "bands permuted among children of the same classes", permutations: 19 },
    },
  ],
  [
    "validation",
    () => validateThreshold(data, { ...high, cutOff: 3 }),
    {
      kind: "threshold-validation",
      label: "cut-off fixed in advance; not chosen on these rows",
      words: ">= 3",
    },
  ],
  [
    "weighted validation",
    () => validateThreshold({ ...data, weights }, { ...high, cutOff: 3, seed: 1, replicates: 50 }),
    {
      kind: "threshold-validation",
      label: "cut-off fixed in advance; not chosen on these rows",
      accuracy: { kind: "weighted-accuracy", weighting: "known" },
    },
  ],
] as const)("%s says what it is", async (_, call, wanted) => {
  expect(await call()).toMatchObject(wanted);
});

// one case among 12 rows: a resample lacks it with probability (11/12)^12 = .35
const lone = {
  values: many.slice(0, 12),
  condition: many.slice(0, 12).map((row) => row === 11),
};

describe("resamples that lack something", () => {
  it("one referred row: no positive predictive value in a third of the resamples", () => {
    const found = validateThreshold(
      {
        values: lone.values,
        condition: many.slice(0, 12).map((row) => row % 2),
        weights: many.slice(0, 12).map(() => 1),
      },
      { ...high, cutOff: 11, seed: 1, replicates: 200 },
    );
    const half = validateThreshold(
      { values: [11, 11, 1, 2, 3, 4], condition: [1, 0, 1, 0, 1, 0], weights: [1, 1, 1, 1, 1, 1] },
      { ...high, cutOff: 11, seed: 1, replicates: 200 },
    ).accuracy.positivePredictiveValue;
    // a value of 1 has Wilson's limits, one of 1/2 would need its resamples: (4/6)^6 = .09 lack it
    expect(found.accuracy.positivePredictiveValue).toMatchObject({ value: 1 });
    expect(half.kind).toBe("undefined");
    const failed = Number(
      half.kind === "undefined" &&
        half.reason.match(/^(\d+) of 200 resamples had no positivePredictiveValue$/)?.[1],
    );
    expect(Math.abs(failed / 200 - (4 / 6) ** 6)).toBeLessThan(0.09);
  });

  it.each([{ sensitivityAtLeast: 0.5 }, "youden"] as const)(
    "no choice without a case: %j",
    async (criterion) => {
      const found = await chooseThreshold(lone, { ...toChoose, criterion, replicates: 200 });
      expect(Math.abs(found.failed / 200 - (11 / 12) ** 12)).toBeLessThan(0.14);
    },
  );
});

it("a fold without an examined row of a stratum cannot be judged: no cross-validation, and why", async () => {
  // one examined row of its stratum: it lies in one fold, the others have none
  const examination = {
    examined: many.map((row) => row < 19),
    strata: many.map((row) => (row < 18 ? "a" : "b")),
  };
  for (const seed of [1, 2, 3]) {
    const found = await chooseThreshold(
      { ...data, examination },
      { ...toChoose, seed, replicates: 60 },
    );
    expect(found.crossValidated).toBeNull();
    expect(found.notes).toContain("A fold or a training part lacked a class: take fewer folds.");
  }
});

describe("at the very number", () => {
  it("one resample of twenty without a class leaves an interval, two do not", () => {
    const rows = many.slice(0, 12);
    const few = {
      values: rows,
      condition: rows.map((row) => row % 4 === 1),
      strata: rows.map(() => "all"),
    };
    const of = (seed: number) => {
      const run = { ...high, seed, replicates: 20 };
      return {
        area: areaUnderCurve(few, { ...run, interval: "bootstrap" }),
        band: sensitivityAtRates(few, { ...run, falsePositiveRates: [0.5] }).points[0].sensitivity,
      };
    };
    const seeds = Array.from({ length: 40 }, (_, seed) => of(seed));
    for (const { area, band } of seeds) expect(band.kind).toBe(area.kind);
    const one = seeds.filter(({ area }) => "failed" in area && area.failed === 1);
    expect(one.length).toBeGreaterThan(3);
    const two = seeds.filter(
      ({ area }) => area.kind === "undefined" && area.reason === "2 of 20 resamples lacked a class",
    );
    expect(two.length).toBeGreaterThan(0);
  });

  it("three children are enough for limits, two are not", () => {
    const { steps } = scoreTradeoff(
      { test: values, reference: many, confidenceScore: many, condition },
      { betterWhen: "high", ...high, cutOff: 3, scoreLimits: [21, 22] },
    );
    expect(steps.map(({ kept, agreement }) => [kept, agreement.kind])).toEqual([
      [24, "limits-of-agreement"],
      [3, "limits-of-agreement"],
      [2, "undefined"],
    ]);
  });

  it("40 sites have intervals of corrected rates, 39 have not", async () => {
    const of = (sites: number) => {
      const rows = Array.from({ length: 4 * sites }, (_, row) => row);
      return chooseThreshold(
        {
          values: rows.map((row) => (row * 7) % 12),
          condition: rows.map((row) => (row * 7) % 12 > 5 !== (row % 5 === 0)),
          clusters: { subject: rows, site: rows.map((row) => row % sites) },
        },
        { ...toChoose, nested: { outer: 30, inner: 2 }, repeats: 1 },
      );
    };
    const [enough, few] = [await of(40), await of(39)];
    expect(enough.correctedIntervals.sensitivity.kind).toBe("estimate");
    expect(few.correctedIntervals.sensitivity).toEqual({
      kind: "undefined",
      reason: "fewer than 40 sites: their bootstrap gives no interval that holds",
    });
    expect(few.notes).toContain(
      "39 sites were drawn: below 40 a bootstrap of sites gives no interval that holds.",
    );
    expect(enough.notes).toContain(
      "The intervals of corrected performance come from a nested bootstrap and are approximate.",
    );
  });

  it.each([
    // cases, controls, children of both: as many pairs as rows of each class, and half of all children
    [3, 9, 0, 3],
    [9, 3, 0, 3],
    [5, 5, 0, 5],
    [0, 1, 4, 2],
    [1, 6, 2, 3],
  ])(
    "complete separation: %i cases, %i controls and %i of both make %i pairs",
    (cases, controls, both, pairs) => {
      const rows = [
        ...Array.from({ length: cases }, (_, at) => ({ value: 9, has: 1, child: `case ${at}` })),
        ...Array.from({ length: controls }, (_, at) => ({
          value: 1,
          has: 0,
          child: `control ${at}`,
        })),
        ...Array.from({ length: 2 * both }, (_, at) => ({
          value: at % 2 ? 9 : 1,
          has: at % 2,
          child: `both ${at >> 1}`,
        })),
      ];
      const found = known(
        areaUnderCurve(
          {
            values: rows.map(({ value }) => value),
            condition: rows.map(({ has }) => has),
            subjects: rows.map(({ child }) => child),
          },
          high,
        ),
      );
      expect(found).toMatchObject({ value: 1, high: 1, method: "exact-on-disjoint-pairs" });
      expect(found.low).toBeCloseTo(0.025 ** (1 / pairs), 12);
    },
  );

  it.each([
    [1, "undefined"],
    [2, "estimate"],
    [22, "estimate"],
    [23, "undefined"],
  ])("areas of two instruments where %i of 24 have the condition: %s", (count, kind) => {
    const reference = many.map((row) => (row < count ? -2 : 2));
    const a = many.map((row) => reference[row] + 3 * Math.sin(row));
    const b = many.map((row) => reference[row] + 3 * Math.cos(5 * row));
    const [{ area }] = compareInstruments(
      { instruments: { a, b }, reference },
      { condition: { relation: "<=", limit: -1 } },
    ).pairs;
    expect(area!.kind).toBe(kind);
    if (area!.kind === "undefined") {
      expect(area!.reason).toBe("fewer than two rows have, or lack, the condition");
    }
  });

  it("an area that does not vary has no correlation with another", () => {
    const perfect = condition.map((one, row) => (one ? 100 : 0) + 0 * row);
    const found = compareAreas({ ...two, second: perfect }, high);
    expect(found).toMatchObject({ second: 1, correlation: null });
    const plain = compareAreas(two, high);
    expect(Math.abs(plain.correlation!)).toBeLessThan(1);
  });
});

it.each([
  ["the likelihood is flat: categories are empty or separated", [0, 0, 1], [1, 1, 0]],
  ["no maximum was found in 200 steps", [1, 0, 1], [0, 1, 0]],
  ["the likelihood has its maximum at the edge", [1, 1, 1], [1, 0, 2]],
])("binormal: %s", (reason, controls, cases) => {
  const rows = [controls, cases].flatMap((counts, has) =>
    counts.flatMap((count, value) => Array.from({ length: count }, () => ({ value, has }))),
  );
  const found = binormalCurve(
    { values: rows.map(({ value }) => value), condition: rows.map(({ has }) => has) },
    high,
  );
  expect(found).toEqual({ kind: "undefined", reason });
});

it("few cases among many rows: a bootstrap of rows is that of children of one row", () => {
  const rows = Array.from({ length: 60 }, (_, row) => row);
  const few = {
    values: rows.map((row) => ((row * 7) % 20) + (row % 6 === 0 ? 9 : 0)),
    condition: rows.map((row) => row % 6 === 0),
  };
  const run = { ...high, interval: "bootstrap", seed: 3, replicates: 1000 } as const;
  const [alone, children] = [few, { ...few, subjects: rows }].map((given) =>
    known(areaUnderCurve(given, run)),
  );
  expect(alone.value).toBe(children.value);
  expect(alone.low).toBeLessThan(alone.value);
  expect(alone.high).toBeGreaterThan(alone.value);
  // 1,000 replicates each: a standard error is known to about 1/45
  expect(Math.abs(alone.se! / children.se! - 1)).toBeLessThan(0.14);
});

it("prepared rows as counts say whether they are weighted", () => {
  const weighted = (rows: object) =>
    valueCountsOf(prepareRows("x", { ...data, ...rows }, "high")).weighted;
  const examination = { examined: many.map(() => 1), strata: many.map(() => 1) };
  expect([weighted({}), weighted({ weights }), weighted({ examination })]).toEqual([
    false,
    true,
    true,
  ]);
});

describe("names of before", () => {
  const examined = many.map((row) => row % 3 !== 0);
  const examination = { examined, strata: many.map(() => "all") };
  const seeded = { ...high, seed: 1, replicates: 30 } as const;
  const both = (call: (data: object) => unknown) => async () => [
    await call({ ...data, verification: examination }),
    await call({ ...data, examination }),
  ];
  it.each([
    [
      "areaUnderCurve",
      both((rows) => areaUnderCurve(rows as never, { ...seeded, interval: "bootstrap" })),
    ],
    [
      "sensitivityAtRates",
      both((rows) => sensitivityAtRates(rows as never, { ...seeded, falsePositiveRates: [0.5] })),
    ],
    [
      "validateThreshold",
      both((rows) => validateThreshold(rows as never, { ...seeded, cutOff: 3 })),
    ],
    ["chooseThreshold", both((rows) => chooseThreshold(rows as never, { ...toChoose }))],
    [
      "compareAreas",
      async () => [
        compareAreas({ valuesA: two.first, valuesB: two.second, condition } as never, high),
        compareAreas(two, high),
      ],
    ],
    [
      "compareIndependentAreas",
      async () => [
        compareIndependentAreas({ groupA: data, groupB: data } as never, high),
        compareIndependentAreas({ first: data, second: data }, high),
      ],
    ],
  ] as const)("%s still reads them", async (_, call) => {
    const [former, present] = await call();
    expect(former).toEqual(present);
  });
});

describe("the table of instruments", () => {
  const random = many.map((row) => Math.sin(row * 12.9898) / 2);
  const comparison = compareInstruments(
    {
      instruments: {
        near: many.map((row) => row / 4 + random[row]).with(3, Number.NaN),
        far: many.map((row) => row / 4 + 2 * random[(row + 5) % 24]),
      },
      reference: many.map((row) => row / 4).with(7, Number.NaN),
      subjects,
    },
    { condition: { relation: ">=", limit: 3 } },
  );

  it.each([
    ["public", "Limits are bias ± SDs, right if the differences are normal."],
    ["journal", "Limits are percentiles of the differences."],
  ] as const)("%s", (audience, limits) => {
    const table = instrumentTable(comparison, { audience });
    expect(table.title).toBe("near, far: the same 22 eyes of 12 children");
    expect(table.columns.map(({ label, unit, format }) => [label, unit, format])).toEqual([
      ["Comparison", undefined, "text"],
      ["Bias", "D", "dioptres"],
      ["Lower limit", "D", "dioptres"],
      ["Upper limit", "D", "dioptres"],
      ["Within 0.5 D", undefined, "percent"],
      ["Repeatability coefficient", "D", "dioptres"],
      ["Area, or its difference", undefined, "proportion"],
      ["Difference of the mean distance from the reference", "D", "dioptres"],
    ]);
    expect(table.notes!.slice(0, -1)).toEqual([
      "Intervals of one column hold together at the level 0.95 (Bonferroni).",
      "2 of 24 rows are left out, because an instrument or the reference has no value in them: near 1, far 0, reference 1.",
      limits,
      "Areas are for a reference of >= +3.00 D; a difference is first minus second.",
      "Distance: mean of |instrument - reference|; below 0 the first is nearer.",
    ]);
    const { agreement } = comparison.instruments[0];
    const { percentile } = agreement;
    if (percentile.kind === "undefined") throw new Error(percentile.reason);
    const shown = audience === "journal" ? percentile : agreement;
    const near = table.rows[1].cells;
    expect(near.slice(0, 4)).toEqual(["near", agreement.bias, shown.lower, shown.upper]);
    expect(near[6]).toEqual(comparison.instruments[0].area);
    expect(table.rows.map(({ cells, heading }) => (heading ? `# ${cells[0]}` : cells[0]))).toEqual([
      "# Against the reference (instrument minus reference)",
      "near",
      "far",
      "# Against each other (first minus second)",
      "near minus far",
    ]);
    const [pair] = comparison.pairs;
    const { bias, lower, upper } =
      audience === "journal" && pair.agreement.percentile.kind !== "undefined"
        ? { bias: pair.agreement.bias, ...pair.agreement.percentile }
        : pair.agreement;
    expect(table.rows[4].cells).toEqual([
      "near minus far",
      bias,
      lower,
      upper,
      null,
      null,
      pair.area,
      pair.nearer,
    ]);
  });
});
