import { describe, expect, test } from "vitest";
import {
  accuracyByGroup,
  accuracyFromCounts,
  clusteredAccuracy,
  comparePairedAccuracy,
  crossClassify,
  inconclusiveVariants,
  unreadableVariants,
} from "../../src/accuracy/index.js";
import { differenceRegression, greyZone } from "../../src/agreement/index.js";
import { bootstrap, siteJackknife, tQuantile } from "../../src/inference/index.js";
import { createRandom } from "../../src/inference/random.js";
import {
  restrictToExamined,
  searchRules,
  sensitivityByCondition,
} from "../../src/rulespace/index.js";
import {
  areasByAgeBand,
  areaUnderCurve,
  chooseThreshold,
  compareAreas,
  compareIndependentAreas,
  compareSeveralAreas,
  scoreTradeoff,
  sensitivityAtRates,
  thresholdsByAgeBand,
  validateThreshold,
} from "../../src/thresholds/index.js";
import { wrong } from "../builders/wrong.js";
import { known } from "../known.js";

/** Schools of equal size: readings shifted by a normal amount of each, SD 0.25 D; refer from 2 D. */
function schools(count: number, size: number, seed: number, stream: number) {
  const random = createRandom(seed, stream);
  const rows = { values: [] as number[], condition: [] as number[], site: [] as number[] };
  for (let site = 0; site < count; site++) {
    const shift = 0.25 * random.normal();
    for (let child = 0; child < size; child++) {
      const finding = 1 + 1.2 * random.normal();
      rows.values.push(finding + shift + 0.3 * random.normal());
      rows.condition.push(finding >= 2 ? 1 : 0);
      rows.site.push(site);
    }
  }
  const subject = rows.values.map((_, row) => row);
  const referred = rows.values.map((value) => (value >= 2 ? 1 : 0));
  return { ...rows, subject, referred, clusters: { subject, site: rows.site } };
}

const one = schools(12, 25, 3, 0);

/**
 * The jackknife by hand, for a number of both classes: every site counts, also one without a case;
 * degrees of freedom from the class that lies in fewer effective sites.
 */
function lowByHand(
  statistic: (rows: readonly number[]) => number,
  to: (value: number) => number,
  from: (value: number) => number,
): number {
  const all = [...one.site.keys()];
  const left = Array.from({ length: 12 }, (_, site) =>
    to(statistic(all.filter((row) => one.site[row] !== site))),
  );
  const mean = left.reduce((sum, value) => sum + value, 0) / 12;
  const squares = left.reduce((sum, value) => sum + (value - mean) ** 2, 0);
  const effective = [1, 0].map((has) => {
    const sizes = Array.from(
      { length: 12 },
      (_, site) => all.filter((row) => one.site[row] === site && one.condition[row] === has).length,
    );
    const total = sizes.reduce((sum, size) => sum + size, 0);
    return 1 / sizes.reduce((sum, size) => sum + (size / total) ** 2, 0);
  });
  const half = tQuantile(0.975, Math.min(...effective) - 1) * Math.sqrt((11 / 12) * squares);
  return from(to(statistic(all)) - half);
}
const accuracyColumns = { test: one.referred, reference: one.condition, clusters: one.clusters };

describe("accuracy with sites above children", () => {
  test("each measure is the jackknife over sites of the pooled number", () => {
    const found = clusteredAccuracy(accuracyColumns);
    expect(found).toMatchObject({ method: "site-jackknife", sites: 12, subjects: 300 });
    const table = (rows: readonly number[]) =>
      crossClassify({
        test: rows.map((row) => one.referred[row]),
        reference: rows.map((row) => one.condition[row]),
      });
    const withCondition = one.condition;
    const without = one.condition.map((value) => 1 - value);
    const sensitivity = siteJackknife(
      (rows) => known(accuracyFromCounts(table(rows)).sensitivity).value,
      { site: one.site, denominator: withCondition, scale: "logit" },
    );
    const specificity = siteJackknife(
      (rows) => known(accuracyFromCounts(table(rows)).specificity).value,
      { site: one.site, denominator: without, scale: "logit" },
    );
    for (const [mine, theirs] of [
      [found.sensitivity, sensitivity],
      [found.specificity, specificity],
    ] as const) {
      expect(known(mine).low).toBeCloseTo(known(theirs).low, 12);
      expect(known(mine).high).toBeCloseTo(known(theirs).high, 12);
    }
    const ratio = lowByHand(
      (rows) => known(accuracyFromCounts(table(rows)).positiveLikelihoodRatio).value,
      Math.log,
      Math.exp,
    );
    expect(known(found.positiveLikelihoodRatio).low).toBeCloseTo(ratio, 10);
    const byChild = accuracyFromCounts(table([...one.site.keys()]));
    expect(known(found.specificity).value).toBe(known(byChild.specificity).value);
    expect(found.designEffect.specificity).toBeGreaterThan(1);
  });

  test("20 schools of 30: specificity by child covers too little, by school it does not", () => {
    const truth = (() => {
      const many = schools(2500, 20, 91, 0);
      return known(
        accuracyFromCounts(crossClassify({ test: many.referred, reference: many.condition }))
          .specificity,
      ).value;
    })();
    let [byChild, bySite] = [0, 0];
    const runs = 160;
    for (let run = 0; run < runs; run++) {
      const { referred, condition, clusters } = schools(20, 30, 92, run);
      const rows = { test: referred, reference: condition };
      const child = known(accuracyFromCounts(crossClassify(rows)).specificity);
      const site = known(clusteredAccuracy({ ...rows, clusters }).specificity);
      byChild += Number(child.low <= truth && truth <= child.high);
      bySite += Number(site.low <= truth && truth <= site.high);
    }
    // Monte Carlo error .03 and .017
    expect(byChild / runs).toBeLessThan(0.91);
    expect(bySite / runs).toBeGreaterThan(0.9);
  });

  test("paired rules, groups, the unreadable and the inconclusive", () => {
    const second = one.values.map((value) => (value >= 1.75 ? 1 : 0));
    const { referred: first, condition: reference, clusters, site } = one;
    const paired = comparePairedAccuracy({ first, second, reference, clusters });
    expect(paired).toMatchObject({ sites: 12, subjects: 300 });
    const difference = siteJackknife(
      (rows) => {
        const well = rows.filter((row) => reference[row] === 0);
        return well.reduce((sum, row) => sum + second[row] - first[row], 0) / well.length;
      },
      { site, denominator: reference.map((value) => 1 - value) },
    );
    expect(known(paired.specificity.difference).low).toBeCloseTo(known(difference).low, 12);
    expect(paired.positivePredictiveValue.difference).toMatchObject({ method: "site-jackknife" });
    const by = one.values.map((_, row) => row % 2);
    const groups = accuracyByGroup({ test: first, reference, by, clusters });
    expect(groups.groups[0].accuracy.specificity).toMatchObject({ method: "site-jackknife" });
    expect(groups.homogeneity.specificity.kind).toBe("undefined");
    const test = first.map((value, row) => (row % 29 === 0 ? "undecidable" : value));
    const { variants } = unreadableVariants({ test, reference, clusters });
    expect(variants.map(({ accuracy }) => accuracy.method)).toEqual(
      new Array(3).fill("site-jackknife"),
    );
    const unsure = reference.map((value, row) => (row % 31 === 0 ? "inconclusive" : value));
    const left = inconclusiveVariants({ test: first, reference: unsure, clusters }).variants[2];
    expect(left.accuracy).toMatchObject({ method: "site-jackknife", sites: 12 });
  });

  test("methods of independent rows, and rows without anybody, are refused", () => {
    expect(() => clusteredAccuracy(accuracyColumns, { interval: "jeffreys" })).toThrow("got sites");
    expect(() => clusteredAccuracy({ test: [1, 0], reference: [1, 0] })).toThrow("got neither");
  });
});

describe("areas and cut-offs with sites above children", () => {
  const { values, condition, clusters } = one;
  const high = { positiveWhen: "high" } as const;

  test("area, its difference and its band are jackknifed over sites", () => {
    const area = areaUnderCurve({ values, condition, clusters }, high);
    const alone = (rows: readonly number[]) =>
      known(
        areaUnderCurve(
          { values: rows.map((row) => values[row]), condition: rows.map((row) => condition[row]) },
          high,
        ),
      ).value;
    const wanted = lowByHand(
      alone,
      (x) => Math.log(x / (1 - x)),
      (x) => 1 / (1 + Math.exp(-x)),
    );
    expect(known(area).low).toBeCloseTo(wanted, 10);
    expect(area).toMatchObject({ method: "site-jackknife", sites: 12, subjects: 300 });
    const second = values.map((value, row) => value + Math.sin(row));
    const compared = compareAreas({ first: values, second, condition, clusters }, high);
    expect(compared).toMatchObject({ method: "site-jackknife", p: null, sites: 12 });
    const plain = compareAreas({ first: values, second, condition }, high);
    expect(known(compared.difference).value).toBeCloseTo(known(plain.difference).value, 12);
    const band = sensitivityAtRates(
      { values, condition, clusters },
      { ...high, falsePositiveRates: [0.1], seed: 1 },
    );
    expect(band.points[0].sensitivity).toMatchObject({ method: "site-jackknife" });
    const bands = areasByAgeBand(
      { values, condition, clusters, ageMonths: values.map(() => 50) },
      { ...high, bands: [{ fromMonths: 36, toMonths: 72 }] },
    );
    expect(bands.bands[0].area).toMatchObject({ method: "site-jackknife" });
    for (const more of [{ interval: "bootstrap", seed: 1 }, { variance: "delong" }] as const) {
      expect(() => areaUnderCurve({ values, condition, clusters }, { ...high, ...more })).toThrow(
        "jackknife over sites",
      );
    }
  });

  test("a cut-off fixed beforehand, and one chosen: sites are drawn and kept whole", async () => {
    const fixed = validateThreshold({ values, condition, clusters }, { ...high, cutOff: 2 });
    expect(fixed.accuracy).toEqual(clusteredAccuracy(accuracyColumns));
    const options = {
      ...high,
      criterion: { specificityAtLeast: 0.8 },
      seed: 1,
      replicates: 40,
      repeats: 1,
    } as const;
    const chosen = await chooseThreshold({ values, condition, clusters }, options);
    expect(chosen).toMatchObject({ sites: 12, folds: 10, method: "bootstrap of sites" });
    expect(chosen.correctedIntervals.sensitivity.kind).toBe("undefined");
    expect(chosen.constraint).toMatchObject({ bound: null });
    const assured = { ...options, constraint: "assured" } as const;
    await expect(chooseThreshold({ values, condition, clusters }, assured)).rejects.toThrow(
      "got clusters with sites",
    );
    const traded = scoreTradeoff(
      {
        test: values,
        reference: values,
        confidenceScore: values.map(() => 9),
        condition,
        clusters,
      },
      { betterWhen: "high", ...high, cutOff: 2 },
    );
    expect(traded.steps[0].accuracy).toMatchObject({ accuracy: { method: "site-jackknife" } });
  });
});

describe("agreement with sites above children", () => {
  const reference = one.condition.map((value, row) => value + (row % 7) / 7);
  const pairs = { test: one.values, reference, clusters: one.clusters };

  test("regression of the difference and the grey zone are jackknifed over sites", () => {
    const age = one.values.map((_, row) => row % 5);
    const r = differenceRegression({ ...pairs, covariates: { age } });
    const slope = siteJackknife(
      (rows) =>
        known(
          differenceRegression({
            test: rows.map((row) => one.values[row]),
            reference: rows.map((row) => reference[row]),
            covariates: { age: rows.map((row) => age[row]) },
          }).coefficients[1].estimate,
        ).value,
      { site: one.site },
    );
    expect(r).toMatchObject({ errors: "site-jackknife", sites: 12, wald: { kind: "undefined" } });
    expect(known(r.coefficients[1].estimate).low).toBeCloseTo(known(slope).low, 9);
    const zone = greyZone(pairs, { limit: 2, positiveWhen: "high" });
    expect(zone.share).toMatchObject({ method: "site-jackknife" });
  });
});

test("a function that cannot respect sites refuses them and names them", async () => {
  const { values, condition, clusters } = one;
  const calls: Record<string, () => unknown> = {
    compareSeveralAreas: () =>
      compareSeveralAreas(wrong({ values: { a: values, b: values }, condition, clusters }), {
        positiveWhen: "high",
      }),
    compareIndependentAreas: () =>
      compareIndependentAreas(
        wrong({ first: { values, condition, clusters }, second: { values, condition } }),
        { positiveWhen: "high" },
      ),
    restrictToExamined: () =>
      restrictToExamined(
        wrong({
          measures: { a: values },
          condition,
          examined: condition,
          limits: { a: [1] },
          clusters,
        }),
        { a: 1 },
      ),
    sensitivityByCondition: () =>
      sensitivityByCondition(
        wrong({ measures: { a: values }, conditions: { c: condition }, clusters }),
        { a: 1 },
      ),
    bootstrap: () => bootstrap(() => 0, wrong({ rows: values, replicates: 2, seed: 1, clusters })),
  };
  for (const [name, call] of Object.entries(calls)) {
    expect(call, name).toThrow(`${name} requires subjects, got clusters with sites`);
  }
  await expect(
    thresholdsByAgeBand(wrong({ values, condition, ageMonths: values, clusters }), wrong({})),
  ).rejects.toThrow("thresholdsByAgeBand requires subjects, got clusters");
  const search = await searchRules(
    { measures: { a: values }, condition, limits: { a: [1.5, 2, 2.5] }, clusters },
    { seed: 1, replicates: 20, repeats: 1, constraints: { specificityAtLeast: 0.5 } },
  );
  expect(search).toMatchObject({ sites: 12, method: "bootstrap of sites", folds: 10 });
});
