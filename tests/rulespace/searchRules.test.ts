import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { createRandom } from "../../src/inference/random.js";
import { bestRule, type RuleConstraints } from "../../src/rulespace/bestRule.js";
import { paretoFront } from "../../src/rulespace/paretoFront.js";
import { restrictToExamined } from "../../src/rulespace/restrictToExamined.js";
import { ruleAt } from "../../src/rulespace/ruleAt.js";
import { ruleSpace } from "../../src/rulespace/ruleSpace.js";
import { searchRules } from "../../src/rulespace/searchRules.js";
import { sensitivityByCondition } from "../../src/rulespace/sensitivityByCondition.js";
import { streamRules } from "../../src/rulespace/streamRules.js";

/** Invented children: two criteria, the condition pulls both up by `pull`. */
function invented(n: number, seed: number, pull: number, stream = 0) {
  const random = createRandom(seed, stream);
  const condition = Array.from({ length: n }, () => random.uniform() < 0.2);
  const values = () =>
    condition.map((sick) => Math.round((random.normal() + (sick ? pull : 0)) * 4) / 4);
  return {
    measures: { a: values(), b: values() },
    condition,
    limits: { a: [0, 0.5, 1, 1.5, 2, Infinity], b: [0, 0.5, 1, 1.5, 2, Infinity] },
  };
}

const settings = { folds: 5, repeats: 2, replicates: 40, seed: 7 } as const;

/** By definition, over all pairs of limits. */
function searchByHand(
  data: ReturnType<typeof invented>,
  rows: readonly number[],
  { specificityAtLeast = 0, goal = "sensitivity" }: RuleConstraints,
) {
  let best: { a: number; b: number; sensitivity: number; specificity: number } | null = null;
  for (const a of data.limits.a) {
    for (const b of data.limits.b) {
      const rates = ratesByHand(data, rows, { a, b });
      if (rates.specificity < specificityAtLeast) continue;
      const score = (one: { sensitivity: number; specificity: number }) =>
        goal === "youden" ? one.sensitivity + one.specificity : one.sensitivity;
      const gain = best === null ? 1 : score(rates) - score(best);
      const tied =
        best !== null &&
        Math.abs(gain) < 1e-12 &&
        (rates.sensitivity > best.sensitivity + 1e-12 ||
          (Math.abs(rates.sensitivity - best.sensitivity) < 1e-12 &&
            rates.specificity > best.specificity + 1e-12));
      if (gain > 1e-12 || tied) best = { a, b, ...rates };
    }
  }
  return best;
}

function ratesByHand(
  { measures, condition }: ReturnType<typeof invented>,
  rows: readonly number[],
  { a, b }: { a: number; b: number },
) {
  const refers = (row: number) => measures.a[row]! >= a || measures.b[row]! >= b;
  const ill = rows.filter((row) => condition[row]);
  const well = rows.filter((row) => !condition[row]);
  return {
    sensitivity: ill.filter(refers).length / ill.length,
    specificity: well.filter((row) => !refers(row)).length / well.length,
  };
}

describe("searchRules", () => {
  it("chooses what bestRule chooses, and is the same for one thread and two", async () => {
    const data = invented(400, 3, 1.5);
    const constraints = { specificityAtLeast: 0.8 };
    const one = await searchRules(data, { ...settings, constraints });
    const two = await searchRules(data, { ...settings, constraints, workers: 2 });
    expect(two).toEqual(one);
    const best = bestRule(ruleSpace(data), constraints);
    expect(one.limits).toEqual(best.kind === "best-rule" && best.limits);
    expect(one.table).toEqual(ruleAt(ruleSpace(data), one.limits));
    expect(JSON.parse(JSON.stringify(one))).toEqual(one);
    expect(JSON.stringify(one).length).toBeLessThan(50_000);
  });

  it("leaves one child out as by hand, when folds are children", async () => {
    for (const constraints of [{ specificityAtLeast: 0.8 }, { goal: "youden" }] as const) {
      const data = invented(40, 11, 1.5);
      const rows = [...data.condition.keys()];
      const sums = { found: 0, spared: 0 };
      for (const left of rows) {
        const kept = rows.filter((row) => row !== left);
        const chosen = searchByHand(data, kept, constraints)!;
        const refers = data.measures.a[left]! >= chosen.a || data.measures.b[left]! >= chosen.b;
        if (data.condition[left]) sums.found += Number(refers);
        else sums.spared += Number(!refers);
      }
      const ill = data.condition.filter(Boolean).length;
      const found = await searchRules(data, { ...settings, constraints, folds: 40, repeats: 1 });
      expect(found.crossValidated!.sensitivity).toBeCloseTo(sums.found / ill, 12);
      expect(found.crossValidated!.specificity).toBeCloseTo(sums.spared / (40 - ill), 12);
    }
  });

  it("resamples children with all their rows", async () => {
    const data = invented(150, 5, 1);
    const twice = <T>(list: readonly T[]) => [...list, ...list];
    const subjects = twice([...data.condition.keys()]);
    const doubled = {
      measures: { a: twice(data.measures.a), b: twice(data.measures.b) },
      condition: twice(data.condition),
      limits: data.limits,
      subjects,
    };
    const constraints = { specificityAtLeast: 0.85 };
    const single = await searchRules(data, { ...settings, constraints });
    const pairs = await searchRules(doubled, { ...settings, constraints });
    expect(pairs.subjects).toBe(150);
    // every row twice, drawn together: the very same resamples and folds
    expect(pairs.optimism.youdenIndex).toBeCloseTo(single.optimism.youdenIndex, 12);
    expect(pairs.crossValidated).toEqual(single.crossValidated);
    expect(pairs.stability).toEqual(single.stability);
  });

  it("lets examined children stand for the unexamined of their stratum", async () => {
    const data = invented(3000, 17, 1.5);
    const random = createRandom(99);
    const referred = data.measures.a.map((a, row) => a >= 1 || data.measures.b[row]! >= 1);
    const examined = referred.map((yes) => yes || random.uniform() < 0.4);
    const condition = data.condition.map((sick, row) =>
      examined[row] ? Number(sick) : Number.NaN,
    );
    await expect(searchRules({ ...data, condition }, settings)).rejects.toThrow(
      /condition to be true, false, 1 or 0, got NaN/,
    );
    const verification = { examined, strata: referred.map(String) };
    const constraints = { specificityAtLeast: 0.8 };
    const found = await searchRules(
      { ...data, condition, examination: verification },
      { ...settings, constraints },
    );
    expect(found.weighting).toBe("examination");
    // by hand: passes examined weigh 1 / their share
    const passes = referred.filter((yes) => !yes).length;
    const looked = referred.filter((yes, row) => !yes && examined[row]).length;
    let [ill, hit] = [0, 0];
    examined.forEach((yes, row) => {
      if (!yes || !data.condition[row]) return;
      const weight = referred[row] ? 1 : passes / looked;
      const { a, b } = found.limits as { a: number | null; b: number | null };
      ill += weight;
      if (data.measures.a[row]! >= (a ?? Infinity) || data.measures.b[row]! >= (b ?? Infinity)) {
        hit += weight;
      }
    });
    expect(found.apparent.sensitivity).toBeCloseTo(hit / ill, 10);
    const nobody = { examined: referred, strata: referred.map(String) };
    await expect(
      searchRules({ ...data, condition, examination: nobody }, settings),
    ).rejects.toThrow(/restrict the rules to the region/);
    const streamed = await streamRules(
      { ...data, condition, examination: verification },
      { constraints },
    );
    expect(streamed.best.kind === "best-rule" && streamed.best.limits).toEqual(found.limits);
  });

  it("keeps the chosen rule on the plateau, and every rule of it within the constraints", async () => {
    const data = invented(500, 23, 1.2);
    const found = await searchRules(data, {
      ...settings,
      constraints: { specificityAtLeast: 0.85 },
    });
    const bounded = { referralRateAtMost: 0.3, limitAtMost: { a: 1.5 } };
    const other = await searchRules(data, { ...settings, constraints: bounded });
    expect(other.plateau.rules.map(({ limits }) => limits)).toContainEqual(other.limits);
    for (const rule of other.plateau.rules) {
      expect(rule.referralRate).toBeLessThanOrEqual(0.3);
      expect(rule.limits.a ?? Infinity).toBeLessThanOrEqual(1.5);
    }
    const { rules, ranges, alone } = found.plateau;
    expect(rules.map(({ limits }) => limits)).toContainEqual(found.limits);
    for (const rule of rules) expect(rule.specificity).toBeGreaterThanOrEqual(0.85);
    for (const list of [ranges, alone]) {
      for (const [criterion, { lowest, highest }] of Object.entries(list)) {
        const own = found.limits[criterion] ?? Infinity;
        expect(lowest ?? Infinity).toBeLessThanOrEqual(own);
        expect(highest ?? Infinity).toBeGreaterThanOrEqual(own);
      }
    }
    const shares = Object.values(found.stability).map((list) =>
      list.reduce((sum, { share }) => sum + share, 0),
    );
    for (const share of shares) expect(share).toBeCloseTo(1, 12);
  });

  it("a rule without information has neither gain nor a wide front", async () => {
    // the condition drawn apart from the values: apparent above 0, cross-validated about 0
    const apparent: number[] = [];
    const corrected: number[] = [];
    const validated: number[] = [];
    for (let study = 0; study < 60; study++) {
      const found = await searchRules(invented(200, 41, 0, study), {
        constraints: { goal: "youden" },
        folds: 5,
        repeats: 1,
        replicates: 30,
        seed: study,
        specificities: [],
      });
      apparent.push(found.apparent.youdenIndex);
      corrected.push(found.corrected.youdenIndex);
      validated.push(found.crossValidated!.youdenIndex);
    }
    const summary = [apparent, corrected, validated].map(meanAndError);
    const [own, bootstrapped, crossed] = summary as [Mean, Mean, Mean];
    expect(own.mean).toBeGreaterThan(5 * own.error);
    expect(bootstrapped.mean).toBeGreaterThan(2 * bootstrapped.error);
    // 3 errors: the seeds are fixed, and the long study holds 2
    expect(Math.abs(crossed.mean)).toBeLessThan(3 * crossed.error);
  });

  it("stops, reports progress, and says what is wrong", async () => {
    const data = invented(100, 2, 1);
    const stages = new Set<string>();
    await searchRules(data, { ...settings, onProgress: ({ stage }) => stages.add(stage) });
    expect([...stages]).toEqual(["bootstrap of the search", "cross-validation of the search"]);
    const signal = AbortSignal.abort(new Error("stopped"));
    await expect(searchRules(data, { ...settings, signal })).rejects.toThrow("stopped");
    await expect(
      searchRules(data, {
        ...settings,
        constraints: { specificityAtLeast: 1, sensitivityAtLeast: 1 },
      }),
    ).rejects.toThrow(/meets the constraints/);
    const limits = Object.fromEntries(
      ["a", "b"].map((k) => [k, Array.from({ length: 8000 }, (_, i) => i)]),
    );
    await expect(searchRules({ ...data, limits }, settings)).rejects.toThrow(/512 MB/);
  });
});

interface Mean {
  readonly mean: number;
  readonly error: number;
}

function meanAndError(values: readonly number[]): Mean {
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  const squares = values.reduce((sum, value) => sum + (value - mean) ** 2, 0);
  return { mean, error: Math.sqrt(squares / (values.length - 1) / values.length) };
}

describe("streamRules", () => {
  it("finds the front and the best rule of the whole space", async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.integer({ min: 0, max: 1000 }),
        fc.constantFrom("refer", "pass", "exclude") as fc.Arbitrary<"refer" | "pass" | "exclude">,
        fc.boolean(),
        fc.constantFrom<RuleConstraints>(
          { specificityAtLeast: 0.7 },
          { goal: "youden" },
          { referralRateAtMost: 0.3, limitAtMost: { a: 1.5 } },
          { goal: { leastCost: { prevalence: 0.1, costOfMiss: 10, costOfFalseReferral: 1 } } },
        ),
        async (seed, unreadable, weighted, constraints) => {
          const data = invented(60, seed, 1);
          const random = createRandom(seed, 1);
          data.measures.a = data.measures.a.map((a) => (random.uniform() < 0.1 ? Number.NaN : a));
          const rows = weighted
            ? { ...data, weights: data.condition.map(() => 1 + random.integer(3)) }
            : data;
          fc.pre(data.condition.some(Boolean) && !data.condition.every(Boolean));
          const space = ruleSpace(rows, { undecidable: unreadable });
          for (const against of [
            "specificity",
            "referralRate",
            { cost: { prevalence: 0.1, costOfMiss: 10, costOfFalseReferral: 1 } },
          ] as const) {
            const streamed = await streamRules(rows, {
              undecidable: unreadable,
              constraints,
              against,
            });
            expect(streamed.front).toEqual(paretoFront(space, { against }));
            expect(streamed.best).toEqual(bestRule(space, constraints));
          }
        },
      ),
      { numRuns: 60, seed: 4 },
    );
  });

  it("takes one criterion, and a grid that ruleSpace refuses", async () => {
    const { measures, condition } = invented(50, 1, 1);
    const one = { measures: { a: measures.a }, condition, limits: { a: [0, 1, 2] } };
    expect((await streamRules(one)).front).toEqual(paretoFront(ruleSpace(one)));
    const fine = Array.from({ length: 8000 }, (_, at) => at / 1000);
    const large = { measures, condition, limits: { a: fine.slice(0, 5200), b: fine } };
    expect(() => ruleSpace(large)).toThrow(
      /requires at most 40000000 rules, got 41600000 \(333 MB/,
    );
  });
});

describe("beside a search", () => {
  it("counts the sensitivity of each condition as by hand", () => {
    const result = sensitivityByCondition(
      {
        measures: { a: [1, Number.NaN, 3, 0], b: [0, 0, 0, 5] },
        conditions: { one: [1, 1, 0, 1], two: [0, 0, 0, 0] },
      },
      { a: 2, b: 4 },
      { undecidable: "exclude" },
    );
    expect(result.conditions[0]).toMatchObject({ n: 2, referred: 1, undecidable: 1 });
    expect(result.conditions[1]!.sensitivity.kind).toBe("undefined");
  });

  it("restricts to the region where all were examined, or refuses", () => {
    const data = {
      measures: { a: [0, 2, 3, 1], b: [0, 0, 0, 4] },
      condition: [0, 1, 0, 1],
      examined: [0, 1, 1, 1],
      limits: { a: [1, 2, 3], b: [1, 4, Infinity] },
    };
    const region = restrictToExamined(data, { a: 2, b: 4 });
    expect(region).toMatchObject({ n: 3, below: 1, limits: { a: [2, 3], b: [4, Infinity] } });
    const inside = ruleAt(ruleSpace(region), { a: 2, b: 4 });
    expect(inside).toEqual({
      truePositive: 2,
      falsePositive: 1,
      falseNegative: 0,
      trueNegative: 0,
    });
    expect(() => restrictToExamined(data, { a: 0, b: 4 })).toThrow(/1 of 4 that were not/);
  });
});
