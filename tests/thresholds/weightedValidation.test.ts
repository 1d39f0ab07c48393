import { describe, expect, it } from "vitest";
import { correctVerification } from "../../src/accuracy/index.js";
import { createRandom } from "../../src/inference/random.js";
import { bootstrap } from "../../src/inference/resampling/bootstrap.js";
import { validateThreshold } from "../../src/thresholds/index.js";
import { known } from "./data.js";

interface Row {
  readonly value: number;
  readonly condition: boolean;
  readonly subject: number;
  readonly examined: boolean;
  readonly stratum: string;
}

/** Children with two rows; whether a row was examined depends on its stratum. */
function invented(children: number, seed: number): Row[] {
  const random = createRandom(seed);
  return Array.from({ length: 2 * children }, (_, row): Row => {
    const condition = random.uniform() < 0.3;
    const value = Math.round(4 * (random.normal() + (condition ? 1.5 : 0))) / 4;
    const stratum = value >= 1 ? "high" : value >= 0 ? "middle" : "low";
    const share = { high: 0.9, middle: 0.5, low: 0.2 }[stratum];
    return { value, condition, subject: row >> 1, examined: random.uniform() < share, stratum };
  });
}

const column = <Name extends keyof Row>(rows: readonly Row[], name: Name) =>
  rows.map((row) => row[name]);

function dataOf(rows: readonly Row[]) {
  return {
    values: column(rows, "value"),
    condition: column(rows, "condition"),
    subjects: column(rows, "subject"),
    examination: { examined: column(rows, "examined"), strata: column(rows, "stratum") },
  };
}

/** Inverse shares examined, by definition. */
function weightOf(rows: readonly Row[]): (row: Row) => number {
  const weights = new Map<string, number>();
  for (const stratum of new Set(column(rows, "stratum"))) {
    const own = rows.filter((row) => row.stratum === stratum);
    weights.set(stratum, own.length / own.filter(({ examined }) => examined).length);
  }
  return ({ examined, stratum }) => (examined ? weights.get(stratum)! : 0);
}

/** Weighted share of rows with `among` that have `holds`. */
function share(
  rows: readonly Row[],
  weight: (row: Row) => number,
  holds: (row: Row) => boolean,
  among: (row: Row) => boolean,
): number {
  const sum = (list: readonly Row[]) => list.reduce((total, row) => total + weight(row), 0);
  return sum(rows.filter((row) => among(row) && holds(row))) / sum(rows.filter(among));
}

const referred = ({ value }: Row) => value >= 1;
const has = ({ condition }: Row) => condition;
const not = (of: (row: Row) => boolean) => (row: Row) => !of(row);
const measures = {
  sensitivity: [referred, has],
  specificity: [not(referred), not(has)],
  positivePredictiveValue: [has, referred],
  negativePredictiveValue: [not(has), not(referred)],
  prevalence: [has, () => true],
} as const;
const options = { positiveWhen: "high", cutOff: 1, seed: 5 } as const;

describe("validateThreshold, some rows examined", () => {
  const rows = invented(300, 8);
  const found = validateThreshold(dataOf(rows), options);

  it.each(Object.entries(measures))("%s by definition", (name, [holds, among]) => {
    const estimate = known(found.accuracy[name as keyof typeof measures]);
    expect(estimate.value).toBeCloseTo(share(rows, weightOf(rows), holds, among), 12);
  });

  // the general bootstrap draws other children: quantiles of 2,000 replicates, twice
  it.each(Object.entries(measures))("%s: interval by another bootstrap", (name, [holds, among]) => {
    const estimate = known(found.accuracy[name as keyof typeof measures]);
    const other = bootstrap((drawn: Row[]) => share(drawn, weightOf(drawn), holds, among), {
      rows,
      subjects: column(rows, "subject"),
      replicates: 2000,
      seed: 77,
    });
    if (other.kind === "undefined") throw new Error(other.reason);
    const within = 0.25 * other.se!;
    expect(Math.abs(estimate.low - other.low)).toBeLessThan(within);
    expect(Math.abs(estimate.high - other.high)).toBeLessThan(within);
  });

  it("known weights give the same values and other intervals", () => {
    const weights = rows.map(weightOf(rows));
    const fixed = validateThreshold({ ...dataOf(rows), examination: undefined, weights }, options);
    expect(fixed.accuracy.weighting).toBe("known");
    for (const name of ["sensitivity", "specificity", "prevalence"] as const) {
      const [a, b] = [known(fixed.accuracy[name]), known(found.accuracy[name])];
      expect(a.value).toBeCloseTo(b.value, 12);
      expect(a.low).not.toBe(b.low);
    }
    expect(fixed.accuracy.table.truePositive).toBeCloseTo(found.accuracy.table.truePositive, 9);
  });

  it("says what it is, as plain data", () => {
    expect(found).toMatchObject({
      kind: "threshold-validation",
      n: 600,
      subjects: 300,
      words: ">= 1",
      accuracy: {
        kind: "weighted-accuracy",
        weighting: "examination",
        examined: rows.filter(({ examined }) => examined).length,
        method: "bootstrap of children",
        replicates: 2000,
        seed: 5,
        failed: 0,
      },
    });
    expect(found.caution).toMatch(/Research use only/);
    expect(JSON.parse(JSON.stringify(found))).toEqual(found);
    expect(JSON.stringify(validateThreshold(dataOf(rows), options))).toBe(JSON.stringify(found));
  });

  it("weights bring back what examining the referred takes away", () => {
    const many = invented(20_000, 9);
    const whole = share(many, () => 1, referred, has);
    const { accuracy } = validateThreshold(dataOf(many), { ...options, replicates: 200 });
    const corrected = known(accuracy.sensitivity);
    expect(corrected.low).toBeLessThan(whole);
    expect(corrected.high).toBeGreaterThan(whole);
    const among = share(many, (row) => Number(row.examined), referred, has);
    expect(among).toBeGreaterThan(corrected.high);
  });
});

// Counts of the published hepatic example of partial verification (Begg and Greenes 1983; table and
// corrected values as in tests/accuracy): strata are the test's own results
describe("strata of the test's own results are the correction of Begg and Greenes", () => {
  const counts = {
    verified: { truePositive: 231, falsePositive: 32, falseNegative: 27, trueNegative: 54 },
    unverified: { testPositive: 166, testNegative: 140 },
  };
  const times = (count: number, value: number, condition: boolean, examined: boolean) =>
    Array.from({ length: count }, () => ({ value, condition, examined, stratum: String(value) }));
  const { verified, unverified } = counts;
  const rows = [
    ...times(verified.truePositive, 1, true, true),
    ...times(verified.falsePositive, 1, false, true),
    ...times(verified.falseNegative, 0, true, true),
    ...times(verified.trueNegative, 0, false, true),
    ...times(unverified.testPositive, 1, false, false),
    ...times(unverified.testNegative, 0, false, false),
  ].map((row, subject) => ({ ...row, subject }));
  const { subjects: _, ...data } = dataOf(rows);
  const found = validateThreshold(data, options).accuracy;
  const expected = correctVerification(counts);

  it.each([
    "sensitivity",
    "specificity",
    "positivePredictiveValue",
    "negativePredictiveValue",
    "prevalence",
  ] as const)("%s", (name) => {
    const [a, b] = [known(found[name]), known(expected[name])];
    expect(a.value).toBeCloseTo(b.value, 12);
    // bootstrap against the delta method on the logit scale
    expect(Math.abs(a.low - b.low)).toBeLessThan(0.012);
    expect(Math.abs(a.high - b.high)).toBeLessThan(0.012);
  });

  it("printed: .836 and .738", () => {
    expect(known(found.sensitivity).value).toBeCloseTo(0.836, 3);
    expect(known(found.specificity).value).toBeCloseTo(0.738, 3);
  });
});

describe("validateThreshold, ends and mistakes", () => {
  const data = {
    values: [1, 2, 3, 4, 5, 6, 7, 8],
    condition: [0, 0, 0, 0, 1, 1, 1, 1],
    weights: [2, 2, 2, 2, 1, 1, 1, 3],
  };
  it("a rate of 1 has Wilson's limits on the effective number of rows", () => {
    const { accuracy } = validateThreshold(data, { ...options, cutOff: 4, replicates: 100 });
    const { value, low, high, method } = known(accuracy.sensitivity);
    // effective rows (1 + 1 + 1 + 3)² / (1 + 1 + 1 + 9) = 3; Wilson for 3 of 3: 3 / (3 + z²)
    expect([value, high, method]).toEqual([1, 1, "wilson-effective-rows"]);
    expect(low).toBeCloseTo(3 / (3 + 1.959963984540054 ** 2), 10);
    expect(known(accuracy.specificity).value).toBe(0.75);
  });

  // own argument: no resample of perfectly separated rows has another index, new children may
  it("a Youden index of 1, or of one rate of 1, keeps the doubt of its rates", () => {
    for (const [values, index] of [
      [[1, 1, 1, 1, 5, 5, 5, 5], 1],
      [[1, 1, 1, 5, 5, 5, 5, 5], 0.75],
    ] as const) {
      const { accuracy } = validateThreshold(
        { values, condition: [0, 0, 0, 0, 1, 1, 1, 1], weights: [1, 1, 1, 1, 1, 1, 1, 1] },
        { positiveWhen: "high", cutOff: 3, seed: 1, replicates: 200 },
      );
      const { value, low, high } = known(accuracy.youdenIndex);
      const sensitivity = known(accuracy.sensitivity);
      const specificity = known(accuracy.specificity);
      expect(value).toBeCloseTo(index, 12);
      // square-and-add, Newcombe 1998
      expect(value - low).toBeCloseTo(
        Math.hypot(1 - sensitivity.low, specificity.value - specificity.low),
        12,
      );
      expect(low).toBeLessThanOrEqual(sensitivity.low);
      expect(high).toBeLessThanOrEqual(1);
    }
  });

  it("weights alike are no weights", () => {
    const rows = invented(100, 3);
    const { examination: __, ...plain } = dataOf(rows);
    const weighted = validateThreshold({ ...plain, weights: rows.map(() => 1) }, options);
    const counted = validateThreshold(plain, options);
    expect(weighted.accuracy.table).toEqual(counted.accuracy.table);
    expect(known(weighted.accuracy.sensitivity).value).toBe(
      known(counted.accuracy.sensitivity).value,
    );
  });

  it("nobody referred: no positive predictive value", () => {
    const { accuracy } = validateThreshold(data, { ...options, cutOff: 9, replicates: 100 });
    expect(accuracy.positivePredictiveValue).toMatchObject({ kind: "undefined" });
    expect(known(accuracy.sensitivity)).toMatchObject({ value: 0, low: 0 });
  });

  it("refuses what it cannot answer", () => {
    const { seed: _, ...seedless } = options;
    expect(() => validateThreshold(data, seedless as typeof options)).toThrow(
      "a whole seed where rows are weighted, got undefined",
    );
    expect(() =>
      validateThreshold(data, { ...options, sampling: "enriched" } as typeof options),
    ).toThrow("without sampling, which their weights already state, got enriched");
    expect(() =>
      validateThreshold(
        {
          ...data,
          weights: undefined,
          examination: { examined: [1, 1, 1, 1, 1, 1, 1, 0], strata: [1, 1, 1, 1, 1, 1, 1, 2] },
        },
        options,
      ),
    ).toThrow("an examined row in every stratum");
    expect(() =>
      validateThreshold({ ...data, condition: data.values.map(() => 1) }, options),
    ).toThrow("rows with and rows without the condition");
  });
});
