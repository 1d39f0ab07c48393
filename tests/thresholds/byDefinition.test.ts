import {
  mean,
  quantileSorted,
  sampleStandardDeviation,
  shuffleInPlace,
  sum,
} from "simple-statistics";
import { describe, expect, it } from "vitest";
import {
  cellCounter,
  cellSampler,
  createRandom,
  redrawUnits,
  unitSampler,
} from "../../src/inference/index.js";
import {
  areasByAgeBand,
  areaUnderCurve,
  binormalCurve,
  chooseThreshold,
  compareAreas,
  rocCurve,
  sensitivityAtRates,
  thresholdsByAgeBand,
} from "../../src/thresholds/index.js";
import { prepareRows } from "../../src/thresholds/prepareRows.js";
import { areaByPairs, known } from "./data.js";

/** 60 rows of 36 children, values on a coarse grid so that there are ties. */
function invented(seed = 3) {
  const random = createRandom(seed);
  const rows = Array.from({ length: 60 }, (_, row) => {
    const condition = random.uniform() < 0.4;
    const value = Math.round(2 * (random.normal() + (condition ? 1 : 0))) / 2;
    return { value, condition, child: row < 48 ? row >> 1 : row - 24 };
  });
  return {
    values: rows.map(({ value }) => value),
    condition: rows.map(({ condition }) => condition),
    subjects: rows.map(({ child }) => child),
  };
}

interface Counts {
  readonly withCondition: ArrayLike<number>;
  readonly withoutCondition: ArrayLike<number>;
}
const total = (list: ArrayLike<number>, to = list.length) => sum(Array.from(list).slice(0, to));

/** Best of "nobody" and every value by the Youden index; ties to the higher sensitivity, then to the stricter. */
function bestOf({ withCondition, withoutCondition }: Counts) {
  let best = { through: 0, sensitivity: 0, specificity: 1, youden: 0 };
  for (let through = 1; through <= withCondition.length; through++) {
    const sensitivity = total(withCondition, through) / total(withCondition);
    const specificity = 1 - total(withoutCondition, through) / total(withoutCondition);
    const youden = sensitivity + specificity - 1;
    const better = youden > best.youden + 1e-9;
    const equal = Math.abs(youden - best.youden) <= 1e-9 && sensitivity > best.sensitivity + 1e-9;
    if (better || equal) best = { through, sensitivity, specificity, youden };
  }
  return best;
}
const ratesOf = ({ withCondition, withoutCondition }: Counts, through: number) => ({
  sensitivity: total(withCondition, through) / total(withCondition),
  specificity: 1 - total(withoutCondition, through) / total(withoutCondition),
});
const copyOf = ({ withCondition, withoutCondition }: Counts) => ({
  withCondition: Array.from(withCondition),
  withoutCondition: Array.from(withoutCondition),
});

describe("a chosen cut-off, its resamples and folds once more", async () => {
  const data = invented();
  const options = { positiveWhen: "high", criterion: "youden", seed: 12 } as const;
  const found = await chooseThreshold(data, {
    ...options,
    replicates: 40,
    folds: 5,
    repeats: 3,
    nested: { outer: 25, inner: 4 },
    level: 0.8,
  });
  const rows = prepareRows("test", data, "high");
  const whole = copyOf(rows.counts);
  const chosen = bestOf(whole);
  const random = createRandom(12);

  it("the choice and its table", () => {
    expect(found.cutOff).toBe(rows.values[chosen.through - 1]);
    expect(found.apparent.sensitivity).toBeCloseTo(chosen.sensitivity, 12);
    const referred = data.values.map((value) => value >= found.cutOff!);
    const count = (a: boolean, b: boolean) =>
      referred.filter((one, row) => one === a && data.condition[row] === b).length;
    expect(found.table).toEqual({
      truePositive: count(true, true),
      falsePositive: count(true, false),
      falseNegative: count(false, true),
      trueNegative: count(false, false),
    });
  });

  it("optimism and how often each cut-off was chosen", () => {
    const sample = cellSampler(rows.units);
    const drawn = Array.from({ length: 40 }, (_, replicate) => {
      random.restart(12, replicate);
      const choice = bestOf(copyOf(sample(random)!));
      const here = ratesOf(whole, choice.through);
      return {
        cutOff: choice.through === 0 ? null : rows.values[choice.through - 1],
        sensitivity: choice.sensitivity - here.sensitivity,
        specificity: choice.specificity - here.specificity,
      };
    });
    const [a, b] = [
      mean(drawn.map(({ sensitivity }) => sensitivity)),
      mean(drawn.map(({ specificity }) => specificity)),
    ];
    expect(found.optimism.sensitivity).toBeCloseTo(a, 10);
    expect(found.optimism.specificity).toBeCloseTo(b, 10);
    expect(found.optimism.youdenIndex).toBeCloseTo(a + b, 10);
    expect(found.corrected.sensitivity).toBeCloseTo(chosen.sensitivity - a, 10);
    expect(found.corrected.specificity).toBeCloseTo(chosen.specificity - b, 10);
    const shares = [...new Set(drawn.map(({ cutOff }) => cutOff))].map((cutOff) => ({
      cutOff,
      share: drawn.filter((one) => one.cutOff === cutOff).length / 40,
    }));
    expect(shares.length).toBeGreaterThan(1);
    expect(found.distribution).toHaveLength(shares.length);
    expect(found.distribution).toEqual(expect.arrayContaining(shares));
  });

  it("the nested bootstrap: each resample chooses, and is corrected by its own resamples", () => {
    const draw = unitSampler(rows.units);
    const count = cellCounter(rows.units);
    const drawn = new Int32Array(rows.units.counts.length);
    const again = new Int32Array(rows.units.counts.length);
    const corrected = Array.from({ length: 25 }, (_, replicate) => {
      random.restart(12, 1_000_000_000 + replicate);
      draw(random, drawn);
      const outer = copyOf(count(drawn)!);
      const choice = bestOf(outer);
      const gains = Array.from({ length: 4 }, () => {
        redrawUnits(rows.units, drawn, random, again);
        const other = bestOf(copyOf(count(again)!));
        const here = ratesOf(outer, other.through);
        return [other.sensitivity - here.sensitivity, other.specificity - here.specificity];
      });
      return {
        sensitivity: choice.sensitivity - mean(gains.map(([one]) => one)),
        specificity: choice.specificity - mean(gains.map(([, one]) => one)),
      };
    });
    const of = {
      sensitivity: corrected.map(({ sensitivity }) => sensitivity),
      specificity: corrected.map(({ specificity }) => specificity),
      youdenIndex: corrected.map(({ sensitivity, specificity }) => sensitivity + specificity - 1),
    };
    for (const name of ["sensitivity", "specificity", "youdenIndex"] as const) {
      const sorted = of[name].sort((a, b) => a - b);
      const interval = known(found.correctedIntervals[name]);
      expect(interval.low).toBeCloseTo(quantileSorted(sorted, 0.1), 10);
      expect(interval.high).toBeCloseTo(quantileSorted(sorted, 0.9), 10);
      expect(interval.value).toBe(found.corrected[name]);
    }
  });

  it("cross-validation: whole children in folds, all folds judged together", () => {
    const children = [...new Set(data.subjects)];
    const order = children.map((_, at) => at);
    const repeats = [0, 1, 2].map((repeat) => {
      random.restart(12, 2_000_000_000 + repeat);
      shuffleInPlace(order, random.uniform);
      const foldOf = new Map(order.map((unit, place) => [children[unit], place % 5]));
      let [hits, passes] = [0, 0];
      for (let fold = 0; fold < 5; fold++) {
        const cells = (keep: (row: number) => boolean, has: boolean) =>
          Array.from(rows.values, (value) =>
            sum(
              data.values.map((one, row) =>
                Number(one === value && data.condition[row] === has && keep(row)),
              ),
            ),
          );
        const inFold = (row: number) => foldOf.get(data.subjects[row]) === fold;
        const [training, judged] = [(row: number) => !inFold(row), inFold].map((keep) => ({
          withCondition: cells(keep, true),
          withoutCondition: cells(keep, false),
        }));
        const { through } = bestOf(training);
        hits += total(judged.withCondition, through);
        passes += total(judged.withoutCondition) - total(judged.withoutCondition, through);
      }
      return [hits / rows.totalWith, passes / rows.totalWithout];
    });
    const sensitivities = repeats.map(([one]) => one);
    const specificities = repeats.map(([, one]) => one);
    expect(found.crossValidated!.sensitivity).toBeCloseTo(mean(sensitivities), 12);
    expect(found.crossValidated!.specificity).toBeCloseTo(mean(specificities), 12);
    expect(found.crossValidationError!.sensitivity).toBeCloseTo(
      sampleStandardDeviation(sensitivities) / Math.sqrt(3),
      12,
    );
  });
});

describe("criteria", () => {
  const data = invented(8);
  const base = {
    positiveWhen: "high",
    seed: 1,
    replicates: 2,
    nested: { outer: 0, inner: 0 },
  } as const;
  const cutOffs = [Number.POSITIVE_INFINITY, ...new Set(data.values)];
  const cases = data.condition.filter(Boolean).length;
  const ratesAt = (cutOff: number) => {
    const share = (has: boolean) =>
      mean(
        data.values
          .filter((_, row) => data.condition[row] === has)
          .map((value) => Number(value >= cutOff)),
      );
    return [share(true), share(false)];
  };

  it.each([
    ["net benefit at the sample's own prevalence", { netBenefitAt: 0.3 }, cases / 60, 3 / 7, 1],
    ["net benefit elsewhere", { netBenefitAt: 0.2, prevalence: 0.05 }, 0.05, 1 / 4, 1],
    [
      "least cost",
      { leastCost: { prevalence: 0.1, costOfMiss: 7, costOfFalseReferral: 2 } },
      0.1,
      2,
      7,
    ],
  ] as const)("%s", async (_, criterion, prevalence, harm, gain) => {
    const worth = (cutOff: number) => {
      const [sensitivity, falsePositive] = ratesAt(cutOff);
      return prevalence * gain * sensitivity - (1 - prevalence) * harm * falsePositive;
    };
    const found = await chooseThreshold(data, { ...base, criterion });
    const most = Math.max(...cutOffs.map(worth));
    expect(worth(found.cutOff ?? Number.POSITIVE_INFINITY)).toBeCloseTo(most, 12);
    // the sample tells the two apart: another criterion chooses another cut-off
    const losses = cutOffs.filter((cutOff) => worth(cutOff) < most - 1e-6).length;
    expect(losses).toBeGreaterThan(3);
  });

  it.each([
    [{ sensitivityAtLeast: 0.8 }, 0],
    [{ specificityAtLeast: 0.8 }, 1],
  ] as const)("%j: the best of those that keep it", async (criterion, at) => {
    const found = await chooseThreshold(data, { ...base, criterion });
    const keeps = cutOffs.filter((cutOff) => {
      const [sensitivity, falsePositive] = ratesAt(cutOff);
      return [sensitivity, 1 - falsePositive][at] >= 0.8 - 1e-9;
    });
    const other = (cutOff: number) => [1 - ratesAt(cutOff)[1], ratesAt(cutOff)[0]][at];
    expect(keeps).toContain(found.cutOff);
    expect(other(found.cutOff!)).toBeCloseTo(Math.max(...keeps.map(other)), 12);
  });
});

describe("percentile intervals of resamples, from the resamples themselves", () => {
  const data = invented(5);
  const rows = prepareRows("test", data, "high");
  const random = createRandom(4);
  const draws = <Value>(of: (counts: Counts) => Value, replicates: number) => {
    const sample = cellSampler(rows.units);
    return Array.from({ length: replicates }, (_, replicate) => {
      random.restart(4, replicate);
      return of(copyOf(sample(random)!));
    });
  };
  const valuesOf = (counts: ArrayLike<number>) =>
    Array.from(rows.values).flatMap((value, cell) => new Array<number>(counts[cell]).fill(value));

  it("the area, by counting pairs", () => {
    const areas = draws(({ withCondition, withoutCondition }) => {
      const [cases, controls] = [valuesOf(withCondition), valuesOf(withoutCondition)];
      return areaByPairs(
        [...cases, ...controls],
        [...cases.map(() => 1), ...controls.map(() => 0)],
      );
    }, 40);
    const sorted = [...areas].sort((a, b) => a - b);
    const found = known(
      areaUnderCurve(data, {
        positiveWhen: "high",
        interval: "bootstrap",
        seed: 4,
        replicates: 40,
        level: 0.7,
      }),
    );
    expect(found.value).toBeCloseTo(areaByPairs(data.values, data.condition), 12);
    expect(found.low).toBeCloseTo(quantileSorted(sorted, 0.15), 10);
    expect(found.high).toBeCloseTo(quantileSorted(sorted, 0.85), 10);
    expect(found.se).toBeCloseTo(sampleStandardDeviation(areas), 10);
    expect(found).toMatchObject({ subjects: 36, n: 60, failed: 0, seed: 4, replicates: 40 });
    expect(found.method).toBe("cluster-bootstrap-percentile");
  });

  it("sensitivity at a false-positive rate, by straight lines", () => {
    const at = (counts: Counts, rate: number) => {
      const points = Array.from({ length: rows.values.length + 1 }, (_, through) => {
        const { sensitivity, specificity } = ratesOf(counts, through);
        return { x: 1 - specificity, y: sensitivity };
      });
      const right = points.findIndex(({ x }) => x > rate + 1e-9);
      if (right < 0) return 1;
      const [a, b] = [points[right - 1], points[right]];
      return a.y + ((b.y - a.y) * (rate - a.x)) / (b.x - a.x);
    };
    const rates = [0.35, 0.1];
    const found = sensitivityAtRates(data, {
      positiveWhen: "high",
      falsePositiveRates: rates,
      seed: 4,
      replicates: 40,
      level: 0.7,
    });
    for (const [k, rate] of rates.entries()) {
      const sorted = draws((counts) => at(counts, rate), 40).sort((a, b) => a - b);
      const { sensitivity } = found.points[k];
      expect(known(sensitivity).value).toBeCloseTo(at(rows.counts, rate), 10);
      expect(known(sensitivity).low).toBeCloseTo(quantileSorted(sorted, 0.15), 10);
      expect(known(sensitivity).high).toBeCloseTo(quantileSorted(sorted, 0.85), 10);
      expect(known(sensitivity).method).toBe("bootstrap-percentile");
    }
    expect(found).toMatchObject({ subjects: 36, n: 60, method: "bootstrap of children" });
  });

  it("more than one resample in twenty without a class leaves no interval", () => {
    // one case among 12 rows: a resample lacks it with probability (11/12)^12 = .35
    const lone = {
      values: [9, ...Array.from({ length: 11 }, (_, row) => row)],
      condition: [1, ...new Array<number>(11).fill(0)],
      strata: new Array<string>(12).fill("all"),
    };
    const run = { positiveWhen: "high", seed: 1, replicates: 200 } as const;
    const area = areaUnderCurve(lone, { ...run, interval: "bootstrap" });
    expect(area.kind).toBe("undefined");
    const failed = Number(area.kind === "undefined" && area.reason.match(/^(\d+) of 200/)?.[1]);
    expect(Math.abs(failed / 200 - (11 / 12) ** 12)).toBeLessThan(0.14);
    const band = sensitivityAtRates(lone, { ...run, falsePositiveRates: [0.5] });
    expect(band.points[0].sensitivity).toEqual({
      kind: "undefined",
      reason: "more than 5 % of the resamples lacked a class",
    });
  });
});

describe("age bands", () => {
  const ageBands = [
    { fromMonths: 36, toMonths: 60 },
    { fromMonths: 60, toMonths: 84 },
    { fromMonths: 84, toMonths: 96 },
  ];

  it("each band has the curve and the area of its rows; a band of one class has neither", () => {
    const data = invented(6);
    const ageMonths = data.values.map((_, row) =>
      row < 20 ? 40 : row < 45 ? 70 : row < 55 ? 90 : 200,
    );
    const condition = data.condition.map((one, row) => (row >= 45 && row < 55 ? true : one));
    const found = areasByAgeBand(
      { values: data.values, condition, ageMonths },
      { positiveWhen: "high", bands: ageBands },
    );
    expect(found).toMatchObject({ kind: "areas-by-age-band", n: 60, outside: 5 });
    for (const [at, [from, to]] of [
      [0, 20],
      [20, 45],
    ].entries()) {
      const part = { values: data.values.slice(from, to), condition: condition.slice(from, to) };
      expect(found.bands[at].area).toEqual(areaUnderCurve(part, { positiveWhen: "high" }));
      expect(found.bands[at].curve).toEqual(rocCurve(part, { positiveWhen: "high" }));
      expect(found.bands[at].n).toBe(to - from);
    }
    expect(found.bands[2]).toMatchObject({
      n: 10,
      curve: null,
      area: { kind: "undefined", reason: "no row is without the condition" },
    });
  });

  it("where every deal of bands gains alike, all deals count", async () => {
    const values = Array.from({ length: 16 }, (_, row) => (row % 4 < 2 ? 1 : 2));
    const found = await thresholdsByAgeBand(
      {
        values,
        condition: values.map((value) => value === 2),
        ageMonths: values.map((_, row) => (row < 8 ? 40 : 70)),
      },
      {
        positiveWhen: "high",
        criterion: "youden",
        bands: ageBands.slice(0, 2),
        seed: 1,
        replicates: 2,
        folds: 2,
        nested: { outer: 0, inner: 0 },
        permutations: 19,
      },
    );
    expect(found.oneForAll).toMatchObject({ gain: 0, gainByChance: 0, p: 1, permutations: 19 });
  });
});

describe("binormal curves", () => {
  it("takes 3 to 60 categories", () => {
    const of = (categories: number) => {
      const values = Array.from({ length: 6 * categories }, (_, row) => row % categories);
      const condition = values.map(
        (value, row) => (row * 7 + value * 3) % 11 < 4 + value / categories,
      );
      return () => binormalCurve({ values, condition }, { positiveWhen: "high" });
    };
    expect(of(60)).not.toThrow();
    for (const categories of [2, 61]) {
      expect(of(categories)).toThrow(
        `binormalCurve requires 3 to 60 distinct values, got ${categories}`,
      );
    }
  });

  it("starts near: counts of a binormal model itself need four steps", () => {
    // normal classes of 1,000 each, means 0 and 1.2, SDs 1 and 1.25, cut at -0.5, 0.2, 0.9, 1.7:
    // counts by table of the normal distribution
    const controls = [309, 270, 237, 139, 45];
    const cases = [87, 125, 193, 250, 345];
    const values = [controls, cases].flatMap((counts) =>
      counts.flatMap((count, value) => new Array<number>(count).fill(value)),
    );
    const condition = values.map((_, row) => (row < 1000 ? 0 : 1));
    const found = binormalCurve({ values, condition }, { positiveWhen: "high" });
    if (found.kind === "undefined") throw new Error(found.reason);
    expect(found.b.value).toBeCloseTo(1 / 1.25, 2);
    expect(found.a.value).toBeCloseTo(1.2 / 1.25, 2);
    expect(found.iterations).toBeLessThanOrEqual(4);
    for (const [at, boundary] of [-0.5, 0.2, 0.9, 1.7].entries()) {
      expect(found.boundaries[at]).toBeCloseTo(boundary, 1);
    }
  });
});

it("values that are one but for binary noise are counted together", () => {
  const values = [0.1 + 0.2, 0.3, 0.7, 0.3, 0.1 + 0.6, 1];
  const { points } = rocCurve({ values, condition: [0, 1, 1, 0, 0, 1] }, { positiveWhen: "high" });
  expect(
    points.map(({ cutOff, truePositive, falsePositive }) => [cutOff, truePositive, falsePositive]),
  ).toEqual([
    [null, 0, 0],
    [1, 1, 0],
    [0.7, 2, 1],
    [0.3, 3, 3],
  ]);
});

it("two areas by sites: leave out one site after the other", () => {
  const { values: first, condition, subjects } = invented(9);
  const second = first.map((value, row) => value + Math.sin(3 * row));
  const site = subjects.map((child) => child % 6);
  const difference = (keep: (row: number) => boolean) => {
    const rows = first.flatMap((_, row) => (keep(row) ? [row] : []));
    const of = (list: number[]) =>
      areaByPairs(
        rows.map((row) => list[row]),
        rows.map((row) => condition[row]),
      );
    return of(first) - of(second);
  };
  const found = compareAreas(
    { first, second, condition, clusters: { subject: subjects, site } },
    { positiveWhen: "high" },
  );
  const left = [0, 1, 2, 3, 4, 5].map((out) => difference((row) => site[row] !== out));
  const se = Math.sqrt((5 / 6) * sum(left.map((one) => (one - mean(left)) ** 2)));
  expect(known(found.difference).value).toBeCloseTo(
    difference(() => true),
    12,
  );
  expect(known(found.difference).se).toBeCloseTo(se, 10);
  expect(found).toMatchObject({ sites: 6, subjects: 36, n: 60, z: null, p: null });
});
