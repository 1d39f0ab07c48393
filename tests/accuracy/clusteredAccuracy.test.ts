import { describe, expect, it } from "vitest";
import {
  accuracyByGroup,
  accuracyFromCounts,
  clusteredAccuracy,
  compareIndependentAccuracy,
  crossClassify,
} from "../../src/accuracy/index.js";
import { createRandom } from "../../src/inference/index.js";
import type { Estimate, Undefined } from "../../src/results/index.js";
import { wrong } from "../builders/wrong.js";
import { known } from "../known.js";

const measures = [
  "sensitivity",
  "specificity",
  "positivePredictiveValue",
  "negativePredictiveValue",
  "positiveLikelihoodRatio",
  "negativeLikelihoodRatio",
  "diagnosticOddsRatio",
  "youdenIndex",
  "prevalence",
  "referralRate",
] as const;

interface Row {
  readonly subject: number;
  readonly test: number;
  readonly reference: number;
}

/** Two eyes a child, test and condition correlated between them; some children have one eye. */
function twoEyes(children: number, seed: number): Row[] {
  const random = createRandom(seed);
  const rows: Row[] = [];
  for (let subject = 0; subject < children; subject++) {
    const shared = random.normal();
    const sharedError = random.normal();
    for (let eye = 0; eye < (random.uniform() < 0.1 ? 1 : 2); eye++) {
      const state = 0.9 * shared + 0.44 * random.normal();
      const reading = state + 0.5 * sharedError + 0.4 * random.normal();
      rows.push({ subject, reference: Number(state > 0.7), test: Number(reading > 0.6) });
    }
  }
  return rows;
}

const columns = (rows: readonly Row[]) => ({
  test: rows.map(({ test }) => test),
  reference: rows.map(({ reference }) => reference),
  subjects: rows.map(({ subject }) => subject),
});

/** Width in the scale in which the interval is symmetric, as a standard error. */
const scales: Record<(typeof measures)[number], (value: number) => number> = {
  sensitivity: (p) => p,
  specificity: (p) => p,
  positivePredictiveValue: (p) => p,
  negativePredictiveValue: (p) => p,
  positiveLikelihoodRatio: Math.log,
  negativeLikelihoodRatio: Math.log,
  diagnosticOddsRatio: Math.log,
  youdenIndex: (p) => p,
  prevalence: (p) => p,
  referralRate: (p) => p,
};

describe("clusteredAccuracy", () => {
  const rows = twoEyes(400, 31);
  const result = clusteredAccuracy(columns(rows));

  it("point values are those of the pooled table", () => {
    const plain = accuracyFromCounts(crossClassify(columns(rows)));
    expect(result.table).toEqual(plain.table);
    for (const measure of measures) {
      expect(known(result[measure]).value).toBeCloseTo(known(plain[measure]).value, 12);
    }
    expect(result.subjects).toBe(400);
    expect(result.n).toBe(rows.length);
  });

  it("every standard error by leaving out one child at a time", () => {
    const parts = Array.from({ length: 400 }, (_, out) =>
      accuracyFromCounts(crossClassify(columns(rows.filter(({ subject }) => subject !== out)))),
    );
    for (const measure of measures) {
      const values = parts.map((part) => scales[measure](known(part[measure]).value));
      const mean = values.reduce((sum, value) => sum + value, 0) / 400;
      const jackknife = Math.sqrt(
        (399 / 400) * values.reduce((sum, value) => sum + (value - mean) ** 2, 0),
      );
      const estimate = known(result[measure]);
      const width =
        (scales[measure](estimate.high) - scales[measure](estimate.low)) / (2 * 1.959964);
      // linearisation and jackknife agree to the order 1/children with the condition (about 100)
      expect(Math.abs(width / jackknife - 1), measure).toBeLessThan(0.05);
    }
  });

  it("agrees with a bootstrap of children, and is wider than independent rows would be", () => {
    const random = createRandom(77);
    const byChild = Array.from({ length: 400 }, (_, subject) =>
      rows.filter((row) => row.subject === subject),
    );
    const plain = accuracyFromCounts(result.table);
    const replicates = Array.from({ length: 600 }, () =>
      accuracyFromCounts(
        crossClassify(
          columns(Array.from({ length: 400 }, () => byChild[random.integer(400)]).flat()),
        ),
      ),
    );
    for (const measure of measures) {
      const scale = scales[measure];
      const values = replicates.map((part) => scale(known(part[measure]).value));
      const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
      const sd = Math.sqrt(
        values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (values.length - 1),
      );
      const estimate = known(result[measure]);
      const width = (scale(estimate.high) - scale(estimate.low)) / (2 * 1.959964);
      // 600 replicates: 3 % Monte Carlo error of a standard deviation
      expect(Math.abs(width / sd - 1), measure).toBeLessThan(0.12);
      const independent = known(plain[measure]);
      expect(estimate.high - estimate.low).toBeGreaterThan(independent.high - independent.low);
    }
    expect(result.designEffect.sensitivity).toBeGreaterThan(1.1);
  });

  it("one row a child: the plain result", () => {
    const singles = columns(rows.filter((row, i) => row.subject !== rows[i - 1]?.subject));
    const clustered = clusteredAccuracy(singles);
    const plain = accuracyFromCounts(crossClassify(singles));
    for (const measure of measures) expect(clustered[measure]).toEqual(plain[measure]);
    expect(clustered.method).toBe("wilson");
  });

  it("order of rows and names of children do not matter", () => {
    const turned = [...rows].reverse().map((row) => ({ ...row, subject: 1e6 - row.subject }));
    const other = clusteredAccuracy(columns(turned));
    for (const measure of measures) {
      expect(known(other[measure]).low).toBeCloseTo(known(result[measure]).low, 10);
    }
  });

  it("rates of exactly 1, infinite ratios and NaN never meet", () => {
    const perfect = clusteredAccuracy({
      test: [1, 1, 1, 0, 0, 0, 0, 1],
      reference: [1, 1, 1, 0, 0, 0, 0, 0],
      subjects: ["a", "a", "b", "c", "c", "d", "d", "e"],
    });
    expect(known(perfect.sensitivity)).toMatchObject({
      value: 1,
      high: 1,
      method: "wilson-on-children",
    });
    // Wilson on 2 children
    expect(known(perfect.sensitivity).low).toBeCloseTo(2 / (2 + 1.959963984540054 ** 2), 10);
    expect(perfect.diagnosticOddsRatio.kind).toBe("undefined");
    expect(perfect.diagnosticOddsRatio.low).toBeGreaterThan(0);
    expect(known(perfect.positiveLikelihoodRatio).value).toBeCloseTo(5, 12);
    expect(JSON.stringify(perfect)).not.toMatch(/NaN|null,"level/);
    const oneSided = clusteredAccuracy({ test: [1, 0], reference: [1, 1], subjects: ["a", "a"] });
    for (const measure of measures) {
      const estimate: Estimate | Undefined = oneSided[measure];
      if (estimate.kind === "undefined") expect(estimate.reason).not.toBe("");
      else expect(Number.isNaN(estimate.low)).toBe(false);
    }
  });

  // own argument: a rate of 1 has a variance of 0 among these children, not in the next ones
  it("ratios keep the doubt about a rate of 1, and about children all alike", () => {
    const rows = (test: number[], reference: number[]) =>
      clusteredAccuracy({ test, reference, subjects: test.map((_, row) => Math.floor(row / 2)) });
    const ten = (bit: number) => Array.from({ length: 10 }, () => bit);
    const reference = [...ten(1), ...ten(0)];
    const perfect = rows([...ten(1), 1, 0, 1, 0, 0, 0, 0, 0, 0, 0], reference);
    const ratio = known(perfect.positiveLikelihoodRatio);
    expect(ratio.method).toBe("score-on-effective-size");
    const alike = rows([1, 0, 1, 0, 1, 0, 1, 0, 1, 0, 1, 0, 1, 0, 1, 0, 1, 0, 1, 0], reference);
    for (const measure of [
      alike.positiveLikelihoodRatio,
      alike.negativeLikelihoodRatio,
      alike.diagnosticOddsRatio,
    ]) {
      expect(known(measure).value).toBeCloseTo(1, 12);
      expect(known(measure).low).toBeLessThan(0.7);
      expect(known(measure).high).toBeGreaterThan(1.4);
      expect(known(measure).method).toBe("score-on-effective-size");
    }
  });

  it("two groups of children: the difference by a bootstrap of each", () => {
    const second = twoEyes(300, 5);
    const other = clusteredAccuracy(columns(second));
    const { sensitivity, specificity } = compareIndependentAccuracy({
      first: result,
      second: other,
    });
    const random = createRandom(12);
    const resample = (source: readonly Row[], children: number) => {
      const byChild = Array.from({ length: children }, (_, subject) =>
        source.filter((row) => row.subject === subject),
      );
      return () =>
        accuracyFromCounts(
          crossClassify(
            columns(
              Array.from({ length: children }, () => byChild[random.integer(children)]).flat(),
            ),
          ),
        );
    };
    const [one, two] = [resample(rows, 400), resample(second, 300)];
    const differences = Array.from(
      { length: 500 },
      () => known(one().sensitivity).value - known(two().sensitivity).value,
    );
    const mean = differences.reduce((sum, value) => sum + value, 0) / 500;
    const sd = Math.sqrt(differences.reduce((sum, value) => sum + (value - mean) ** 2, 0) / 499);
    const { low, high, value } = known(sensitivity.difference);
    // 500 replicates: 3.2 % Monte Carlo error of a standard deviation
    expect(Math.abs((high - low) / (2 * 1.959964 * sd) - 1)).toBeLessThan(0.13);
    expect(value).toBeCloseTo(known(result.sensitivity).value - known(other.sensitivity).value, 12);
    expect(specificity.p).toBeGreaterThan(0);
    const narrower = clusteredAccuracy(columns(second), { level: 0.9 });
    expect(() => compareIndependentAccuracy({ first: result, second: narrower })).toThrow(
      /one level/,
    );
  });

  it("the design travels along", () => {
    const enriched = clusteredAccuracy(columns(rows), { sampling: "enriched", prevalence: 0.02 });
    expect(enriched.prevalence.kind).toBe("undefined");
    const { value, low, high } = known(enriched.positivePredictiveValue);
    const odds = (0.02 / 0.98) * known(result.positiveLikelihoodRatio).value;
    expect(value).toBeCloseTo(odds / (1 + odds), 12);
    expect(low).toBeLessThan(value);
    expect(high).toBeGreaterThan(value);
    expect(() => clusteredAccuracy(columns(rows), { verification: "none" })).toThrow(
      /examined negatives/,
    );
  });

  it("refuses a missing subject and columns of other lengths", () => {
    const base = { test: [1, 0], reference: [1, 0] };
    expect(() => clusteredAccuracy({ ...base, subjects: ["a"] })).toThrow(/one length/);
    expect(() => clusteredAccuracy(base)).toThrow(/requires a column subjects/);
    expect(() => clusteredAccuracy({ ...base, subjects: ["a", wrong(undefined)] })).toThrow(
      /subjects without gaps, got undefined in row 1/,
    );
  });
});

describe("coverage over simulated children with two alike eyes", () => {
  // truth by construction: the condition is the child's (both eyes), and an eye is found with
  // probability .8, its fellow then with .9 and else with .4 (so .8 again on the whole)
  it.each([
    [20, 80],
    [60, 240],
  ])("%i children with and %i without the condition (printed)", (withCondition, without) => {
    const random = createRandom(99);
    const eyes = (p: number, again: number) => {
      const first = random.uniform() < p;
      const other = (p * (1 - again)) / (1 - p);
      return [first, random.uniform() < (first ? again : other)];
    };
    const truth = {
      sensitivity: 0.8,
      specificity: 0.85,
      youdenIndex: 0.65,
      positiveLikelihoodRatio: 0.8 / 0.15,
    };
    const names = ["sensitivity", "specificity", "youdenIndex", "positiveLikelihoodRatio"] as const;
    const covered = [0, 0, 0, 0];
    const rounds = 3000;
    for (let round = 0; round < rounds; round++) {
      const test: boolean[] = [];
      const condition: boolean[] = [];
      const subjects: number[] = [];
      for (let child = 0; child < withCondition + without; child++) {
        const has = child < withCondition;
        for (const found of eyes(has ? 0.8 : 0.15, has ? 0.9 : 0.6)) {
          test.push(found);
          condition.push(has);
          subjects.push(child);
        }
      }
      const result = clusteredAccuracy({ test, reference: condition, subjects });
      names.forEach((name, i) => {
        const { low, high } = known(result[name]);
        if (low <= truth[name] && truth[name] <= high) covered[i]++;
      });
    }
    const shown = names.map((name, i) => `${name} ${(covered[i] / rounds).toFixed(3)}`);
    console.log(`${withCondition} with, ${without} without, two eyes each: ${shown.join(", ")}`);
    for (const count of covered) {
      expect(count / rounds).toBeGreaterThan(0.925);
      expect(count / rounds).toBeLessThan(0.97);
    }
  });
});

describe("Rao and Scott 1992 on litters", () => {
  // Weil CS 1970, as in Williams DA, Biometrics 1975;31:949-952: [pups, surviving] of each litter;
  // expected values are the output of a general statistics package, reproduced in base R 4.2.2
  const control = [
    [13, 13],
    [12, 12],
    [9, 9],
    [9, 9],
    [8, 8],
    [8, 8],
    [13, 12],
    [12, 11],
    [10, 9],
    [10, 9],
    [9, 8],
    [13, 11],
    [5, 4],
    [7, 5],
    [10, 7],
    [10, 7],
  ];
  const treated = [
    [12, 12],
    [11, 11],
    [10, 10],
    [9, 9],
    [11, 10],
    [10, 9],
    [10, 9],
    [9, 8],
    [9, 8],
    [5, 4],
    [9, 7],
    [7, 4],
    [10, 5],
    [6, 3],
    [10, 3],
    [7, 0],
  ];
  const rows = [control, treated].flatMap((litters, group) =>
    litters.flatMap(([pups, alive], litter) =>
      Array.from({ length: pups }, (_, pup) => ({
        test: Number(pup < alive),
        reference: 1,
        subjects: `${group}-${litter}`,
        groups: group === 0 ? "control" : "treated",
      })),
    ),
  );
  const pick = (group: string) => {
    const kept = rows.filter(({ groups }) => groups === group);
    return {
      test: kept.map(({ test }) => test),
      reference: kept.map(({ reference }) => reference),
      subjects: kept.map(({ subjects }) => subjects),
    };
  };

  it("design effects and variances", () => {
    const first = clusteredAccuracy(pick("control"));
    const second = clusteredAccuracy(pick("treated"));
    expect(first.designEffect.sensitivity).toBeCloseTo(1.23249539430677, 10);
    expect(second.designEffect.sensitivity).toBeCloseTo(3.95286062596407, 10);
    expect((known(first.sensitivity).se ?? 0) ** 2).toBeCloseTo(0.000709941185145845, 12);
    expect((known(second.sensitivity).se ?? 0) ** 2).toBeCloseTo(0.00479224990727401, 12);
  });

  it("the adjusted test of homogeneity", () => {
    const { homogeneity } = accuracyByGroup({
      test: rows.map(({ test }) => test),
      reference: rows.map(({ reference }) => reference),
      by: rows.map(({ groups }) => groups),
      subjects: rows.map(({ subjects }) => subjects),
    });
    expect(homogeneity.sensitivity).toMatchObject({
      kind: "homogeneity",
      method: "rao-scott",
      df: 1,
    });
    if (homogeneity.sensitivity.kind === "undefined") throw new Error();
    expect(homogeneity.sensitivity.chiSquare).toBeCloseTo(4.04061050113638, 9);
    expect(homogeneity.sensitivity.p).toBeCloseTo(0.0444177505378994, 9);
    expect(homogeneity.specificity.kind).toBe("undefined");
  });
});
