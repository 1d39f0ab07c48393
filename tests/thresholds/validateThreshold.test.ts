import { describe, expect, it } from "vitest";
import { createRandom } from "../../src/inference/random.js";
import {
  accuracyAtCutOffs,
  areasByAgeBand,
  areaUnderCurve,
  chooseThreshold,
  rocCurve,
  scoreTradeoff,
  sensitivityAtRates,
  thresholdsByAgeBand,
  validateThreshold,
} from "../../src/thresholds/index.js";
import { wrong } from "../builders/wrong.js";
import { childrenEyes, known } from "./data.js";

const rounded = (estimate: Parameters<typeof known>[0]) => {
  const { value, low, high } = known(estimate);
  return [value, low, high].map((x) => Number(x.toFixed(4)));
};

// own computation from the source's rows, Wilson limits for eyes taken as independent
describe("validateThreshold on the children data at -3.00 D", () => {
  it.each([
    ["screener", [389, 92, 15, 575], [0.9629, 0.9397, 0.9774], [0.8621, 0.8338, 0.8862]],
    ["autoref", [420, 72, 4, 621], [0.9906, 0.976, 0.9963], [0.8961, 0.8712, 0.9167]],
  ] as const)("%s", (instrument, counts, sensitivity, specificity) => {
    const { values, condition, subjects } = childrenEyes(instrument);
    const options = { positiveWhen: "low", cutOff: -3 } as const;
    const plain = validateThreshold({ values, condition }, options);
    expect(Object.values(plain.accuracy.table)).toEqual(counts);
    expect(rounded(plain.accuracy.sensitivity)).toEqual(sensitivity);
    expect(rounded(plain.accuracy.specificity)).toEqual(specificity);
    expect(plain).toMatchObject({ kind: "threshold-validation", words: "<= -3" });
    expect(plain.label).toMatch(/fixed in advance/);
    expect(plain.caution).toMatch(/Research use only/);
    const clustered = validateThreshold({ values, condition, subjects }, options);
    expect(clustered.accuracy.kind).not.toBe(plain.accuracy.kind);
    const [a, b] = [clustered, plain].map((found) => known(found.accuracy.specificity));
    expect(a.value).toBe(b.value);
    expect(a.high - a.low).toBeGreaterThan(b.high - b.low);
  });

  it("right eyes: 204/41/10/283 and 224/36/1/300", () => {
    for (const [instrument, counts] of [
      ["screener", [204, 41, 10, 283]],
      ["autoref", [224, 36, 1, 300]],
    ] as const) {
      const all = childrenEyes(instrument);
      const right = all.values.map((_, at) => at).filter((at) => all.eyes[at] === "OD");
      const found = validateThreshold(
        {
          values: right.map((at) => all.values[at]),
          condition: right.map((at) => all.condition[at]),
          subjects: right.map((at) => all.subjects[at]),
        },
        { positiveWhen: "low", cutOff: -3 },
      );
      expect(Object.values(found.accuracy.table)).toEqual(counts);
    }
  });

  it("is another result than a choice, and equals the operating point of the curve", () => {
    const { values, condition } = childrenEyes("screener");
    const curve = rocCurve({ values, condition }, { positiveWhen: "low" });
    for (const point of curve.points.filter((_, at) => at % 9 === 1)) {
      const { table } = validateThreshold(
        { values, condition },
        { positiveWhen: "low", cutOff: point.cutOff! },
      ).accuracy;
      expect(table).toEqual({
        truePositive: point.truePositive,
        falsePositive: point.falsePositive,
        falseNegative: point.falseNegative,
        trueNegative: point.trueNegative,
      });
    }
    expect(() =>
      validateThreshold({ values, condition }, { positiveWhen: "low", cutOff: Number.NaN }),
    ).toThrow("a finite cutOff, got NaN");
  });
});

describe("crosses and bands", () => {
  const { values, condition, subjects } = childrenEyes("screener");
  it("a cross is two Wilson intervals at one cut-off", () => {
    const found = accuracyAtCutOffs(rocCurve({ values, condition }, { positiveWhen: "low" }));
    expect(found).toMatchObject({ kind: "accuracy-at-cut-offs", n: values.length, level: 0.95 });
    const cross = found.points.filter(({ cutOff }) => cutOff !== null && cutOff <= -3).at(-1)!;
    expect(rounded(cross.sensitivity)).toEqual([0.9629, 0.9397, 0.9774]);
    expect(rounded(cross.specificity)).toEqual([0.8621, 0.8338, 0.8862]);
    const weighted = rocCurve(
      { values, condition, weights: values.map(() => 1) },
      { positiveWhen: "low" },
    );
    expect(() => accuracyAtCutOffs(weighted)).toThrow("got one of weights");
  });

  it("a band holds the cut-off free: wider for clusters, and right at the ends", () => {
    const options = {
      positiveWhen: "low",
      falsePositiveRates: [0, 0.05, 0.1, 0.5, 1],
      seed: 7,
      replicates: 400,
    } as const;
    const band = sensitivityAtRates({ values, condition, subjects }, options);
    expect(known(band.points[4].sensitivity)).toMatchObject({ value: 1, low: 1, high: 1 });
    const curve = rocCurve({ values, condition }, { positiveWhen: "low" });
    for (const { falsePositiveRate, sensitivity } of band.points.slice(1, 4)) {
      const at = curve.points.findIndex((point) => 1 - point.specificity > falsePositiveRate);
      expect(known(sensitivity).value).toBeGreaterThanOrEqual(curve.points[at - 1].sensitivity);
      expect(known(sensitivity).value).toBeLessThanOrEqual(curve.points[at].sensitivity);
      expect(known(sensitivity).low).toBeLessThan(known(sensitivity).value);
    }
    expect(band).toMatchObject({ n: 1071, method: "bootstrap of children" });
  });
});

describe("areas by bootstrap", () => {
  const { values, condition, subjects } = childrenEyes("screener");
  const options = { positiveWhen: "low", interval: "bootstrap", seed: 3 } as const;
  // standard errors: .0044 DeLong, .0049 clustered; 2,000 replicates give them within about 7 %
  it("has the standard errors of DeLong and of Obuchowski, and is wider for children", () => {
    const rows = known(areaUnderCurve({ values, condition }, options));
    const children = known(areaUnderCurve({ values, condition, subjects }, options));
    expect(Math.abs(rows.se! / 0.0044 - 1)).toBeLessThan(0.1);
    expect(Math.abs(children.se! / 0.0049 - 1)).toBeLessThan(0.1);
    expect(children.method).toBe("cluster-bootstrap-percentile");
    const strata = known(
      areaUnderCurve({ values, condition, strata: condition.map(String) }, options),
    );
    expect(Math.abs(strata.se! / rows.se! - 1)).toBeLessThan(0.15);
  });

  it("children of one row each are rows", () => {
    const single = known(
      areaUnderCurve({ values, condition, subjects: values.map((_, at) => at) }, options),
    );
    const rows = known(areaUnderCurve({ values, condition }, options));
    // other types in another order, so other draws of the same distribution
    expect(Math.abs(single.se! / rows.se! - 1)).toBeLessThan(0.1);
  });

  it("estimates verification weights anew: with everyone examined it is the plain area", () => {
    const all = known(
      areaUnderCurve(
        {
          values,
          condition,
          examination: {
            examined: values.map(() => true),
            strata: values.map((v) => (v <= -3 ? 1 : 0)),
          },
        },
        options,
      ),
    );
    expect(all.value).toBeCloseTo(known(areaUnderCurve({ values, condition }, options)).value, 12);
    expect(() =>
      areaUnderCurve(
        { values, condition, examination: { examined: values.map(() => 1), strata: values } },
        { positiveWhen: "low" },
      ),
    ).toThrow('interval: "bootstrap" with a seed');
  });
});

describe("age bands", () => {
  const { values, condition, subjects, ages } = childrenEyes("autoref");
  const data = { values, condition, subjects, ageMonths: ages.map((years) => 12 * years) };
  const bands = [
    { fromMonths: 72, toMonths: 120 },
    { fromMonths: 120, toMonths: 156 },
  ];
  it("a curve each; rows outside are counted", () => {
    const found = areasByAgeBand(data, { positiveWhen: "low", bands });
    expect(found.bands.reduce((sum, { n }) => sum + n, 0) + found.outside).toBe(found.n);
    expect(found.outside).toBe(ages.filter((age) => age >= 13).length);
    const rows = values.map((_, at) => at).filter((at) => ages[at] < 10);
    expect(found.bands[0].area).toEqual(
      areaUnderCurve(
        {
          values: rows.map((at) => values[at]),
          condition: rows.map((at) => condition[at]),
          subjects: rows.map((at) => subjects[at]),
        },
        { positiveWhen: "low" },
      ),
    );
    expect(() =>
      areasByAgeBand(data, {
        positiveWhen: "low",
        bands: [bands[0], { fromMonths: 100, toMonths: 130 }],
      }),
    ).toThrow("do not overlap");
  });

  const options = {
    positiveWhen: "high",
    criterion: "youden",
    seed: 4,
    replicates: 40,
    repeats: 1,
    folds: 4,
    nested: { outer: 0, inner: 0 },
    permutations: 199,
  } as const;
  const invented = (shift: number, seed: number) => {
    const random = createRandom(seed);
    const rows = Array.from({ length: 500 }, (_, at) => ({
      old: at % 2,
      condition: random.uniform() < 0.4,
      noise: random.normal(),
    }));
    return {
      values: rows.map(
        (r) => Math.round(4 * (r.noise + (r.condition ? 2 : 0) + shift * r.old)) / 4,
      ),
      condition: rows.map((r) => r.condition),
      ageMonths: rows.map((r) => (r.old ? 90 : 50)),
      subjects: rows.map((_, at) => Math.floor(at / 4) * 2 + (at % 2)),
    };
  };
  const two = [
    { fromMonths: 36, toMonths: 72 },
    { fromMonths: 72, toMonths: 108 },
  ];
  it("one cut-off does not serve bands that differ by 2 D", async () => {
    const found = await thresholdsByAgeBand(invented(2, 1), { ...options, bands: two });
    expect(found.oneForAll.p).toBeLessThan(0.01);
    expect(found.oneForAll.gain).toBeGreaterThan(found.oneForAll.gainByChance as number);
    const [young, old] = found.bands.map(({ choice }) => choice.cutOff!);
    expect(old - young).toBeGreaterThan(1);
  });

  it("p is uniform enough where one serves all", async () => {
    const found: number[] = [];
    for (let seed = 0; seed < 24; seed++) {
      const result = await thresholdsByAgeBand(invented(0, 100 + seed), {
        ...options,
        replicates: 2,
        permutations: 99,
        bands: two,
      });
      found.push(result.oneForAll.p);
      expect(result.oneForAll.gain).toBeGreaterThanOrEqual(-1e-12);
    }
    // binomial(24, .1): 7 or more has probability .004
    expect(found.filter((p) => p <= 0.1).length).toBeLessThan(7);
    expect(found.filter((p) => p > 0.5).length).toBeGreaterThan(4);
  });

  it("refuses a band without both classes", async () => {
    const data = invented(0, 3);
    await expect(
      thresholdsByAgeBand(
        { ...data, condition: data.condition.map((c, at) => c && at % 2 === 0) },
        { ...options, bands: two },
      ),
    ).rejects.toThrow("both classes in each band, got 0 with");
  });
});

describe("scoreTradeoff", () => {
  const random = createRandom(77);
  const rows = Array.from({ length: 400 }, (_, at) => {
    const score = [9, 8, 7, 6, 5, Number.NaN][random.integer(6)];
    const reference = 3 * random.normal() - 2;
    return {
      score,
      reference,
      test: reference + ((10 - (score || 5)) / 5) * random.normal(),
      child: Math.floor(at / 2),
    };
  });
  const data = {
    test: rows.map((row) => row.test),
    reference: rows.map((row) => row.reference),
    confidenceScore: rows.map((row) => row.score),
    condition: rows.map((row) => row.reference <= -3),
    subjects: rows.map((row) => row.child),
  };
  const options = { betterWhen: "high", positiveWhen: "low", cutOff: -3 } as const;
  it("counts what each limit loses, and narrows the limits of agreement", () => {
    const found = scoreTradeoff(data, options);
    expect(found.steps.map((step) => step.scoreLimit)).toEqual([null, 5, 6, 7, 8, 9]);
    expect(found.steps[0]).toMatchObject({ kept: 400, lost: 0, childrenLost: 0 });
    expect(found.unscored).toBe(rows.filter((row) => Number.isNaN(row.score)).length);
    for (const step of found.steps.slice(1)) {
      const kept = rows.filter((row) => row.score >= step.scoreLimit!);
      expect(step.kept).toBe(kept.length);
      expect(step.childrenLost).toBe(200 - new Set(kept.map((row) => row.child)).size);
      const agreement = step.agreement as Exclude<typeof step.agreement, { kind: "undefined" }>;
      expect(agreement.n).toBe(kept.length);
      const accuracy = step.accuracy as Exclude<typeof step.accuracy, { kind: "undefined" }>;
      expect(accuracy.accuracy.table.truePositive).toBe(
        kept.filter((row) => row.test <= -3 && row.reference <= -3).length,
      );
    }
    const spread = (at: number) =>
      (found.steps[at].agreement as { sd: { value: number } }).sd.value;
    expect(spread(5)).toBeLessThan(spread(0));
    expect(JSON.parse(JSON.stringify(found))).toEqual(found);
  });

  it("the other direction of the score, limits of one's own, and too few left", () => {
    const turned = scoreTradeoff(
      { ...data, confidenceScore: rows.map((row) => 10 - row.score) },
      { ...options, betterWhen: "low", scoreLimits: [1, 4, 0] },
    );
    expect(turned.steps.map((step) => step.scoreLimit)).toEqual([null, 4, 1, 0]);
    expect(turned.steps[3]).toMatchObject({ kept: 0, agreement: { kind: "undefined" } });
    expect(() => scoreTradeoff(data, { ...options, betterWhen: wrong(undefined) })).toThrow(
      'betterWhen: "high" or "low", got undefined',
    );
  });
});

describe("chooseThreshold on threads", () => {
  it("another number of workers gives the same bytes, where the package is built", async () => {
    const { values, condition, subjects } = childrenEyes("screener");
    const options = {
      positiveWhen: "low",
      criterion: "youden",
      seed: 6,
      replicates: 60,
      repeats: 1,
      nested: { outer: 30, inner: 5 },
    } as const;
    const one = await chooseThreshold({ values, condition, subjects }, options);
    const two = await chooseThreshold(
      { values, condition, subjects },
      { ...options, workers: 2 },
    ).catch((error: Error) => {
      // sources without a build have no worker file
      expect(error.message).toMatch(/requires the built package/);
      return one;
    });
    expect(JSON.stringify(two)).toBe(JSON.stringify(one));
  });
});
