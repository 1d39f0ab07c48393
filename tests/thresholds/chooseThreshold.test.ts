import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { normalCdf } from "../../src/inference/distributions.js";
import { createRandom } from "../../src/inference/random.js";
import { chooseThreshold, rocCurve, type ThresholdOptions } from "../../src/thresholds/index.js";
import { wrong } from "../builders/wrong.js";
import { childrenEyes, readColumns } from "./data.js";

const quick = { replicates: 60, repeats: 2, folds: 4, nested: { outer: 0, inner: 0 } } as const;

// Wieand, Gail, James and James, Biometrika 1989;76:585-592; cut-offs computed in R from the data
// (>= an observed value), not printed in the paper
describe("chooseThreshold on the pancreatic marker of Wieand 1989", () => {
  const column = readColumns("tests/reference/thresholds/wieand_pancreas.csv");
  const data = {
    values: column("CA19_9").map(Number),
    condition: column("cancer").map((code) => code === "1"),
  };
  it.each([
    ["youden", 39.3, 0.755555555555556, 0.901960784313726],
    [{ specificityAtLeast: 0.9 }, 39.3, 0.755555555555556, 0.901960784313726],
    [{ specificityAtLeast: 0.95 }, 60.2, 0.677777777777778, 0.96078431372549],
    [
      { leastCost: { prevalence: 0.1, costOfMiss: 10, costOfFalseReferral: 1 } },
      39.3,
      0.755555555555556,
      0.901960784313726,
    ],
  ] as const)("%j", async (criterion, cutOff, sensitivity, specificity) => {
    const found = await chooseThreshold(data, {
      positiveWhen: "high",
      criterion,
      seed: 1,
      ...quick,
    });
    expect(found.cutOff).toBe(cutOff);
    expect(found.words).toBe(`>= ${cutOff}`);
    expect(found.apparent.sensitivity).toBeCloseTo(sensitivity, 12);
    expect(found.apparent.specificity).toBeCloseTo(specificity, 12);
  });
});

describe("chooseThreshold by definition", () => {
  const scores = {
    youden: (se: number, sp: number) => se + sp - 1,
    sensitivity: (se: number, sp: number) => (se >= 0.8 - 1e-9 ? sp : Number.NEGATIVE_INFINITY),
    specificity: (se: number, sp: number) => (sp >= 0.8 - 1e-9 ? se : Number.NEGATIVE_INFINITY),
    cost: (se: number, sp: number) => -(0.2 * 5 * (1 - se) + 0.8 * (1 - sp)),
    benefit: (se: number, sp: number) => 0.3 * se - (0.7 * (1 - sp) * 0.25) / 0.75,
  };
  const criteria = {
    youden: "youden",
    sensitivity: { sensitivityAtLeast: 0.8 },
    specificity: { specificityAtLeast: 0.8 },
    cost: { leastCost: { prevalence: 0.2, costOfMiss: 5, costOfFalseReferral: 1 } },
    benefit: { netBenefitAt: 0.25, prevalence: 0.3 },
  } as const;
  it("no operating point is better, and ties go to sensitivity, then to the stricter", async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.array(fc.tuple(fc.integer({ min: 0, max: 8 }), fc.boolean()), {
          minLength: 6,
          maxLength: 40,
        }),
        fc.constantFrom(...(Object.keys(criteria) as (keyof typeof criteria)[])),
        fc.constantFrom("high" as const, "low" as const),
        async (rows, name, positiveWhen) => {
          fc.pre(rows.some(([, c]) => c) && rows.some(([, c]) => !c));
          const data = { values: rows.map(([v]) => v), condition: rows.map(([, c]) => c) };
          const found = await chooseThreshold(data, {
            positiveWhen,
            criterion: criteria[name],
            seed: 3,
            ...quick,
            folds: 2,
            replicates: 20,
          });
          const { points } = rocCurve(data, { positiveWhen });
          const score = scores[name];
          const best = Math.max(...points.map((p) => score(p.sensitivity, p.specificity)));
          const tied = points.filter((p) => score(p.sensitivity, p.specificity) >= best - 1e-12);
          const most = Math.max(...tied.map((p) => p.sensitivity));
          const expected = tied.find((p) => p.sensitivity === most)!;
          expect(found.cutOff).toBe(expected.cutOff);
          expect(found.table).toEqual({
            truePositive: expected.truePositive,
            falsePositive: expected.falsePositive,
            falseNegative: expected.falseNegative,
            trueNegative: expected.trueNegative,
          });
        },
      ),
      { numRuns: 60 },
    );
  });
});

describe("chooseThreshold on the children data at -3.00 D", () => {
  const rows = childrenEyes("screener");
  const options: ThresholdOptions = { positiveWhen: "low", criterion: "youden", seed: 5 };
  it("puts apparent, corrected and cross-validated performance side by side", async () => {
    const found = await chooseThreshold(rows, { ...options, replicates: 300 });
    expect(found).toMatchObject({ kind: "threshold-choice", n: 1071, failed: 0, folds: 10 });
    expect(found.subjects).toBe(new Set(rows.subjects).size);
    expect(found.corrected.youdenIndex).toBeLessThan(found.apparent.youdenIndex);
    expect(found.crossValidated?.youdenIndex).toBeLessThan(found.apparent.youdenIndex);
    const interval = found.correctedIntervals.youdenIndex;
    expect(interval).toMatchObject({
      kind: "estimate",
      method: expect.stringMatching(/approximate/),
    });
    expect(interval.low).toBeLessThan(found.corrected.youdenIndex);
    expect(interval.high).toBeGreaterThan(found.corrected.youdenIndex);
    const shares = found.distribution.reduce((sum, { share }) => sum + share, 0);
    expect(shares).toBeCloseTo(1, 12);
    expect(found.distribution.map(({ cutOff }) => cutOff)).toContain(found.cutOff);
    expect(found.caution).toMatch(/Research use only/);
    expect(JSON.parse(JSON.stringify(found))).toEqual(found);
  });

  it("chooses among round numbers when they are given", async () => {
    const found = await chooseThreshold(rows, {
      ...options,
      ...quick,
      cutOffs: [-2, -2.5, -3, -3.5, -4],
    });
    expect([-2, -2.5, -3, -3.5, -4]).toContain(found.cutOff);
  });

  it("an observed constraint comes with an uncorrected bound, and is not assured", async () => {
    const criterion = { sensitivityAtLeast: 0.95 };
    const found = await chooseThreshold(rows, { ...options, ...quick, criterion });
    expect(found.apparent.sensitivity).toBeGreaterThanOrEqual(0.95);
    expect(found.constraint).toMatchObject({
      mode: "observed",
      demanded: 0.95,
      measure: "sensitivity",
    });
    expect(found.constraint!.bound).toBeLessThan(found.apparent.sensitivity);
    expect(found.constraint!.note).toContain("not corrected for choosing");
    expect((await chooseThreshold(rows, { ...options, ...quick })).constraint).toBe(null);
  });

  it("an assured constraint keeps its promise in new children; an observed one does so half the time", async () => {
    // Two normal distributions in steps of 0.05, so that the true specificity is known.
    const kept = { observed: 0, assured: 0 };
    const cohorts = 150;
    for (let seed = 0; seed < cohorts; seed++) {
      const random = createRandom(seed, 77);
      const condition = Array.from({ length: 250 }, (_, child) => child < 50);
      const values = condition.map(
        (sick) => Math.round(20 * (random.normal() + (sick ? 1.5 : 0))) / 20,
      );
      for (const constraint of ["observed", "assured"] as const) {
        const found = await chooseThreshold(
          { values, condition },
          {
            positiveWhen: "high",
            criterion: { specificityAtLeast: 0.9 },
            constraint,
            seed: 1,
            replicates: 2,
            folds: 2,
            repeats: 1,
            nested: { outer: 0, inner: 0 },
          },
        );
        const passed = found.cutOff === null ? 1 : normalCdf(found.cutOff - 0.025);
        if (passed >= 0.9) kept[constraint]++;
      }
    }
    // Binomial errors of 150: three of .018 below .95.
    expect(kept.assured / cohorts).toBeGreaterThan(0.95 - 3 * 0.018);
    expect(kept.observed / cohorts).toBeLessThan(0.85);
  });

  it("too few children to assure anything are told how many it takes", async () => {
    const few = { values: [1, 2, 3, 4, 5, 6, 7, 8], condition: [0, 0, 0, 0, 1, 1, 1, 1] };
    await expect(
      chooseThreshold(few, {
        positiveWhen: "high",
        criterion: { specificityAtLeast: 0.9 },
        constraint: "assured",
        seed: 1,
      }),
    ).rejects.toThrow("requires at least 29 children to assure a specificity of 0.9, got 4");
    await expect(
      chooseThreshold(few, {
        positiveWhen: "high",
        criterion: "youden",
        constraint: "assured",
        seed: 1,
      }),
    ).rejects.toThrow('for constraint "assured", got "youden"');
  });

  it("folds keep a child whole: twins of one row are judged together", async () => {
    // each child twice, with noise: if a fold split a child, its twin would give it away
    const random = createRandom(8);
    const children = Array.from({ length: 60 }, () => [random.normal(), random.uniform() < 0.5]);
    const twice = children.flatMap((child, at) => [at, at].map((id) => [...child, id] as const));
    const data = {
      values: twice.map(([value]) => Number(value)),
      condition: twice.map(([, c]) => Boolean(c)),
      subjects: twice.map(([, , id]) => Number(id)),
    };
    const paired = await chooseThreshold(data, { ...options, ...quick, repeats: 20, folds: 10 });
    const single = await chooseThreshold(
      {
        values: children.map(([value]) => Number(value)),
        condition: children.map(([, c]) => Boolean(c)),
        subjects: children.map((_, at) => at),
      },
      { ...options, ...quick, repeats: 20, folds: 10 },
    );
    // the same folds of the same children: the same numbers
    expect(paired.crossValidated).toEqual(single.crossValidated);
  });

  it("is the same on any number of threads, reports progress and can be stopped", async () => {
    const steps: string[] = [];
    const one = await chooseThreshold(rows, {
      ...options,
      ...quick,
      onProgress: ({ stage, done }) => steps.push(`${stage} ${done.toFixed(1)}`),
    });
    expect(steps[0]).toMatch(/^bootstrap 0/);
    expect(steps.at(-1)).toBe("bootstrap 1.0");
    const again = await chooseThreshold(rows, { ...options, ...quick });
    expect(again).toEqual(one);
    await expect(
      chooseThreshold(rows, { ...options, ...quick, signal: AbortSignal.abort(new Error("stop")) }),
    ).rejects.toThrow("stop");
  });
});

// 200 with, 800 without, 40 steps, shuffled: own computation found .0432 apparent, .0136 corrected,
// .0013 (se .0009) cross-validated over 2,000 shuffles; here 60
describe("chooseThreshold when there is nothing to find", () => {
  it("the cross-validated index is 0 within two errors; apparent and corrected are above", async () => {
    const random = createRandom(2026);
    const found: { apparent: number[]; corrected: number[]; validated: number[] } = {
      apparent: [],
      corrected: [],
      validated: [],
    };
    for (let shuffle = 0; shuffle < 60; shuffle++) {
      const values = Array.from({ length: 1000 }, () => random.integer(40));
      const condition = values.map((_, at) => at < 200);
      const choice = await chooseThreshold(
        { values, condition },
        {
          positiveWhen: "high",
          criterion: "youden",
          seed: shuffle,
          replicates: 100,
          repeats: 5,
          nested: { outer: 0, inner: 0 },
        },
      );
      found.apparent.push(choice.apparent.youdenIndex);
      found.corrected.push(choice.corrected.youdenIndex);
      found.validated.push(choice.crossValidated!.youdenIndex);
    }
    const mean = (list: number[]) => list.reduce((sum, x) => sum + x, 0) / list.length;
    const error = (list: number[]) =>
      Math.sqrt(list.reduce((sum, x) => sum + (x - mean(list)) ** 2, 0) / 59 / 60);
    expect(Math.abs(mean(found.validated))).toBeLessThan(2 * error(found.validated));
    expect(mean(found.apparent)).toBeGreaterThan(10 * error(found.apparent));
    expect(mean(found.corrected)).toBeGreaterThan(2 * error(found.corrected));
    expect(mean(found.corrected)).toBeLessThan(0.6 * mean(found.apparent));
  });
});

describe("chooseThreshold: weights and faults", () => {
  it("weights examined rows up to their stratum, and knows the truth then", async () => {
    const random = createRandom(12);
    const all = Array.from({ length: 6000 }, () => {
      const condition = random.uniform() < 0.15;
      const value = Math.round((random.normal() + (condition ? 2 : 0)) * 4) / 4;
      const referred = value >= 1;
      return { condition, value, referred, examined: random.uniform() < (referred ? 0.9 : 0.3) };
    });
    const options: ThresholdOptions = {
      positiveWhen: "high",
      criterion: { specificityAtLeast: 0.9 },
      seed: 2,
      ...quick,
    };
    const corrected = await chooseThreshold(
      {
        values: all.map((row) => (row.examined ? row.value : Number.NaN)),
        condition: all.map((row) => row.condition),
        examination: {
          examined: all.map((row) => row.examined),
          strata: all.map((row) => (row.referred ? "referred" : "passed")),
        },
      },
      options,
    );
    const whole = await chooseThreshold(
      { values: all.map((row) => row.value), condition: all.map((row) => row.condition) },
      options,
    );
    const looked = all.filter((row) => row.examined);
    const naive = await chooseThreshold(
      { values: looked.map((row) => row.value), condition: looked.map((row) => row.condition) },
      options,
    );
    expect(corrected.weighting).toBe("examination");
    expect(corrected.cutOff).toBe(whole.cutOff);
    expect(Math.abs(corrected.apparent.sensitivity - whole.apparent.sensitivity)).toBeLessThan(
      0.05,
    );
    // without weights the referred, and so high values, are too many: another cut-off
    expect(naive.cutOff).toBeGreaterThan(whole.cutOff!);
  });

  const good = { values: [1, 2, 3, 4], condition: [0, 0, 1, 1] };
  const options = {
    positiveWhen: "high",
    criterion: "youden",
    seed: 1,
    ...quick,
    folds: 2,
  } as const;
  it.each([
    [{ ...good, condition: [1, 1, 1, 1] }, options, "rows with and rows without the condition"],
    [{ ...good, values: [1, 2, Number.NaN, 4] }, options, "finite numbers in values, got NaN"],
    [good, { ...options, positiveWhen: wrong("up") }, 'positiveWhen: "high" or "low", got up'],
    [good, { ...options, criterion: wrong("best") }, 'got "best"'],
    [good, { ...options, criterion: { sensitivityAtLeast: 1.2 } }, "between 0 and 1, got 1.2"],
    [good, { ...options, folds: 5 }, "at most a fold a child"],
    [good, { ...options, cutOffs: [] }, "finite cutOffs"],
    [
      good,
      { ...options, cutOffs: [4], criterion: { sensitivityAtLeast: 0.9 } },
      "a cut-off that meets the constraint",
    ],
    [{ ...good, subjects: [1, 1, 2, 2], strata: [0, 1, 1, 1] }, options, "one stratum"],
  ])("%j %j", async (data, given, message) => {
    await expect(chooseThreshold(data, given as ThresholdOptions)).rejects.toThrow(message);
  });
});
