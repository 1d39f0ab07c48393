// Weighted areas and rates with sites above children, by definition: the weights of all rows again without each site.
import { describe, expect, test } from "vitest";
import { tQuantile } from "../../src/inference/index.js";
import { createRandom } from "../../src/inference/random.js";
import {
  areaUnderCurve,
  chooseThreshold,
  sensitivityAtRates,
  validateThreshold,
} from "../../src/thresholds/index.js";
import { known } from "../known.js";

interface Row {
  readonly value: number;
  readonly condition: boolean;
  readonly examined: boolean;
  readonly stratum: string;
  readonly subject: number;
  readonly site: number;
}

const sites = 6;
/** Children with two eyes; passes were examined in part. */
function invented(children: number): Row[] {
  const random = createRandom(41);
  return Array.from({ length: children }, (_, subject) => {
    const site = Math.floor((subject / children) ** 1.3 * sites);
    const shift = [0.4, -0.3, 0, 0.2, -0.4, 0.1][site]!;
    return [0, 1].map((): Row => {
      const finding = random.normal();
      const value = Math.round(4 * (finding + shift + 0.6 * random.normal())) / 4;
      const stratum = value >= 1 ? "refer" : "pass";
      const examined = stratum === "refer" || random.uniform() < 0.4;
      return { value, condition: finding >= 0.8, examined, stratum, subject, site };
    });
  }).flat();
}

const rows = invented(240);
const of = (list: readonly Row[]) => ({
  values: list.map(({ value }) => value),
  condition: list.map(({ condition }) => condition),
  examination: {
    examined: list.map(({ examined }) => examined),
    strata: list.map(({ stratum }) => stratum),
  },
});
const clusters = {
  subject: rows.map(({ subject }) => subject),
  site: rows.map(({ site }) => site),
};
const high = { positiveWhen: "high" } as const;

/** Rows of a stratum for each examined one. */
function weightIn(list: readonly Row[], row: Row): number {
  const own = list.filter(({ stratum }) => stratum === row.stratum);
  return row.examined ? own.length / own.filter(({ examined }) => examined).length : 0;
}

/** Pairs of a row with and a row without, each pair with the product of both weights. */
function areaOf(list: readonly Row[]): number {
  const seen = list.filter(({ examined }) => examined);
  let [good, all] = [0, 0];
  for (const one of seen.filter(({ condition }) => condition)) {
    for (const other of seen.filter(({ condition }) => !condition)) {
      const weight = weightIn(list, one) * weightIn(list, other);
      all += weight;
      good += weight * (one.value > other.value ? 1 : one.value === other.value ? 0.5 : 0);
    }
  }
  return good / all;
}

function shareOf(
  list: readonly Row[],
  holds: (row: Row) => boolean,
  among: (row: Row) => boolean,
): number {
  const sum = (part: readonly Row[]) => part.reduce((total, row) => total + weightIn(list, row), 0);
  return sum(list.filter((row) => among(row) && holds(row))) / sum(list.filter(among));
}

const logit = (p: number) => Math.log(p / (1 - p));
/** Section 11: (K - 1)/K sum of squares on the logit scale, t with 1 / sum h² - 1 degrees of freedom. */
function lowByHand(statistic: (list: readonly Row[]) => number, sizes: readonly number[]): number {
  const left = Array.from({ length: sites }, (_, site) =>
    logit(statistic(rows.filter((row) => row.site !== site))),
  );
  const mean = left.reduce((sum, one) => sum + one, 0) / sites;
  const variance = ((sites - 1) / sites) * left.reduce((sum, one) => sum + (one - mean) ** 2, 0);
  const total = sizes.reduce((sum, one) => sum + one, 0);
  const effective = 1 / sizes.reduce((sum, one) => sum + (one / total) ** 2, 0);
  const moved = logit(statistic(rows)) - tQuantile(0.975, effective - 1) * Math.sqrt(variance);
  return 1 / (1 + Math.exp(-moved));
}
const sizesOf = (among: (row: Row) => boolean) =>
  Array.from({ length: sites }, (_, site) =>
    rows
      .filter((row) => row.site === site && among(row))
      .reduce((sum, row) => sum + weightIn(rows, row), 0),
  );
const effectiveOf = (sizes: readonly number[]) =>
  sizes.reduce((sum, one) => sum + one, 0) ** 2 / sizes.reduce((sum, one) => sum + one ** 2, 0);

describe("weights estimated from who was examined, sites above children", () => {
  test("area", () => {
    const found = areaUnderCurve({ ...of(rows), clusters }, high);
    const sizes = [true, false].map((has) => sizesOf(({ condition }) => condition === has));
    const fewer = sizes.toSorted((one, other) => effectiveOf(one) - effectiveOf(other))[0]!;
    expect(known(found).value).toBeCloseTo(areaOf(rows), 12);
    expect(known(found).low).toBeCloseTo(lowByHand(areaOf, fewer), 10);
    expect(found).toMatchObject({ method: "site-jackknife", sites, subjects: 240, n: 480 });
    const byChild = areaUnderCurve(
      { ...of(rows), subjects: clusters.subject },
      { ...high, interval: "bootstrap", seed: 1, replicates: 50 },
    );
    expect(known(byChild).value).toBeCloseTo(known(found).value, 12);
  });

  test("rates of a cut-off fixed beforehand", () => {
    const { accuracy } = validateThreshold({ ...of(rows), clusters }, { ...high, cutOff: 0.75 });
    const refers = ({ value }: Row) => value >= 0.75;
    const has = ({ condition }: Row) => condition;
    const not = (is: (row: Row) => boolean) => (row: Row) => !is(row);
    for (const [measure, holds, among] of [
      ["sensitivity", refers, has],
      ["specificity", not(refers), not(has)],
      ["positivePredictiveValue", has, refers],
      ["negativePredictiveValue", not(has), not(refers)],
      ["prevalence", has, () => true],
    ] as const) {
      const rate = (list: readonly Row[]) => shareOf(list, holds, among);
      expect(known(accuracy[measure]).value, measure).toBeCloseTo(rate(rows), 12);
      expect(known(accuracy[measure]).low, measure).toBeCloseTo(
        lowByHand(rate, sizesOf(among)),
        10,
      );
    }
    const { value, low, high: upper } = known(accuracy.youdenIndex);
    expect(value).toBeCloseTo(
      known(accuracy.sensitivity).value + known(accuracy.specificity).value - 1,
      12,
    );
    expect(upper - value).toBeCloseTo(value - low, 12);
    expect(accuracy).toMatchObject({ method: "site-jackknife", sites });
    expect(accuracy).not.toHaveProperty("seed");
  });

  test("known weights, bands and choices go by site too", async () => {
    const seen = rows.filter(({ examined }) => examined);
    const data = {
      values: seen.map(({ value }) => value),
      condition: seen.map(({ condition }) => condition),
      weights: seen.map((row) => weightIn(rows, row)),
      clusters: {
        subject: seen.map(({ subject }) => subject),
        site: seen.map(({ site }) => site),
      },
    };
    const area = areaUnderCurve(data, high);
    expect(known(area).value).toBeCloseTo(areaOf(rows), 12);
    // taken as known, the weights do not change without a site
    expect(known(area).low).not.toBe(known(areaUnderCurve({ ...of(rows), clusters }, high)).low);
    const band = sensitivityAtRates(
      { ...of(rows), clusters },
      { ...high, falsePositiveRates: [0.1], seed: 1 },
    );
    expect(band.points[0]!.sensitivity).toMatchObject({ method: "site-jackknife" });
    const chosen = await chooseThreshold(
      { ...of(rows), clusters },
      { ...high, criterion: "youden", seed: 1, replicates: 20, folds: 3, repeats: 1 },
    );
    expect(chosen).toMatchObject({ sites, weighting: "examination", method: "bootstrap of sites" });
  });

  test("none where without a site nobody stands for a stratum", () => {
    const gone = {
      ...of(rows),
      examination: {
        examined: rows.map(({ examined, site }) => examined && site !== 1),
        strata: rows.map(({ stratum, site }) => (site <= 1 ? "both" : stratum)),
      },
    };
    expect(areaUnderCurve({ ...gone, clusters }, high)).toEqual({
      kind: "undefined",
      reason: "without one of the sites there is no value",
    });
  });
});
