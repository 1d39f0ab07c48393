import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { areaUnderCurve } from "../../src/thresholds/index.js";
import { wrong } from "../builders/wrong.js";
import { areaByPairs, childrenEyes, known, readColumns } from "./data.js";

// DeLong, DeLong and Clarke-Pearson, Biometrics 1988;44:837-845: the 43 complete records. Areas and
// standard errors from memory for K-G (.7258, .1028) and total protein (.6478, .1000), and
// recomputed for albumin by two implementations.
describe("areaUnderCurve: DeLong 1988", () => {
  const column = readColumns("data/classics/ovarian_1988.csv");
  const numbers = (name: string) => column(name).map(Number);
  const condition = numbers("condition");
  it.each([
    [
      "albumin",
      "high",
      0.736559139784946,
      0.0926943460524027,
      0.554881559951744,
      0.918236719618148,
    ],
    ["kg_score", "low", 0.725806451612903, 0.102821608980048, 0.52427980117955, 0.927333102046257],
    [
      "total_protein",
      "high",
      0.647849462365591,
      0.100047375583742,
      0.451760209473705,
      0.843938715257478,
    ],
  ] as const)("%s", (name, positiveWhen, area, se, low, high) => {
    const found = known(
      areaUnderCurve({ values: numbers(name), condition }, { positiveWhen, interval: "plain" }),
    );
    expect(found.value).toBeCloseTo(area, 12);
    expect(found.se).toBeCloseTo(se, 12);
    expect(found.low).toBeCloseTo(low, 8);
    expect(found.high).toBeCloseTo(high, 8);
    expect(found).toMatchObject({
      n: 43,
      withCondition: 31,
      withoutCondition: 12,
      method: "delong",
    });
  });
});

// Hanley and McNeil, Radiology 1982;143:29-36: 109 images, ratings 1 to 5; area .893 seen, standard
// error .032 (theirs) and .0307 (DeLong) from memory; digits recomputed in R
describe("areaUnderCurve: Hanley and McNeil 1982", () => {
  const normal = [33, 6, 6, 11, 2];
  const abnormal = [3, 2, 2, 11, 33];
  const rows = [normal, abnormal].flatMap((counts, code) =>
    counts.flatMap((count, rating) => Array.from({ length: count }, () => [rating + 1, code])),
  );
  const data = { values: rows.map(([rating]) => rating), condition: rows.map(([, code]) => code) };
  it("area .893, standard errors .032 and .0307", () => {
    const delong = known(areaUnderCurve(data, { positiveWhen: "high", interval: "plain" }));
    expect(delong.value).toBeCloseTo(0.893171061528059, 12);
    expect(delong.se).toBeCloseTo(0.0307244083793811, 12);
    expect([delong.low, delong.high].map((x) => x.toFixed(5))).toEqual(["0.83295", "0.95339"]);
    const printed = known(
      areaUnderCurve(data, { positiveWhen: "high", variance: "hanley-mcneil" }),
    );
    expect(printed.se).toBeCloseTo(0.0319904081943094, 12);
    expect(printed.method).toBe("hanley-mcneil-logit");
  });
});

// own computation from the source's rows; areas and both standard errors to four digits
describe("areaUnderCurve: children data at -3.00 D", () => {
  it.each([
    ["screener", 1071, 0.9753, 0.0044, 0.0049],
    ["autoref", 1117, 0.9931, 0.0018, 0.0018],
  ] as const)("%s", (instrument, n, area, seDeLong, seClustered) => {
    const { subjects, ...rows } = childrenEyes(instrument);
    const plain = known(areaUnderCurve(rows, { positiveWhen: "low" }));
    const clustered = known(areaUnderCurve({ ...rows, subjects }, { positiveWhen: "low" }));
    expect(plain.n).toBe(n);
    expect(Number(plain.value.toFixed(4))).toBe(area);
    expect(Number(plain.se?.toFixed(4))).toBe(seDeLong);
    expect(Number(clustered.se?.toFixed(4))).toBe(seClustered);
    expect(clustered.value).toBe(plain.value);
    expect(clustered.method).toBe("obuchowski-logit-t");
  });
});

// Rscript tests/reference/thresholds/areas.R (R 4.2.2)
describe("areaUnderCurve: the logit interval, by definition", () => {
  it("t with Welch's degrees of freedom, or normal", () => {
    const column = readColumns("data/classics/ovarian_1988.csv");
    const values = column("albumin").map(Number);
    const condition = column("condition").map(Number);
    const t = known(areaUnderCurve({ values, condition }, { positiveWhen: "high" }));
    const z = known(
      areaUnderCurve({ values, condition }, { positiveWhen: "high", interval: "logit-normal" }),
    );
    expect([z.low, z.high].map((x) => x.toFixed(6))).toEqual(["0.522951", "0.877014"]);
    expect([t.low, t.high].map((x) => x.toFixed(6))).toEqual(["0.506064", "0.884123"]);
    expect([t.method, z.method]).toEqual(["delong-logit-t", "delong-logit"]);
  });
});

const tiedRows = fc
  .array(
    fc.record({
      value: fc.integer({ min: -4, max: 4 }),
      with: fc.boolean(),
      child: fc.integer({ min: 0, max: 12 }),
    }),
    {
      minLength: 8,
      maxLength: 50,
    },
  )
  .filter((rows) => {
    const children = (wanted: boolean) =>
      new Set(rows.filter((row) => row.with === wanted).map((row) => row.child)).size;
    return (
      children(true) > 1 && children(false) > 1 && new Set(rows.map((row) => row.value)).size > 1
    );
  });
const columns = (rows: readonly { value: number; with: boolean; child: number }[]) => ({
  values: rows.map((row) => row.value),
  condition: rows.map((row) => row.with),
  subjects: rows.map((row) => row.child),
});

describe("areaUnderCurve: laws", () => {
  it("equals the count of pairs; the variances equal those by definition", () => {
    fc.assert(
      fc.property(tiedRows, (rows) => {
        const { values, condition, subjects } = columns(rows);
        const plain = known(areaUnderCurve({ values, condition }, { positiveWhen: "high" }));
        expect(plain.value).toBeCloseTo(areaByPairs(values, condition), 12);
        if (plain.value === 1 || plain.value === 0) return;
        expect(plain.se).toBeCloseTo(Math.sqrt(varianceByDefinition(rows, (_, at) => at)), 10);
        const clustered = known(
          areaUnderCurve({ values, condition, subjects }, { positiveWhen: "high" }),
        );
        const slow = varianceByDefinition(rows, (row) => row.child);
        expect(clustered.se! ** 2).toBeCloseTo(Math.max(0, slow), 10);
      }),
    );
  });

  it("one row a child is the plain path; direction mirrors; row order is irrelevant", () => {
    fc.assert(
      fc.property(tiedRows, (rows) => {
        const { values, condition } = columns(rows);
        const options = { positiveWhen: "high" } as const;
        const plain = areaUnderCurve({ values, condition }, options);
        const single = areaUnderCurve(
          { values, condition, subjects: rows.map((_, i) => i) },
          options,
        );
        expect(single).toEqual({ ...plain, subjects: rows.length });
        const mirrored = known(areaUnderCurve({ values, condition }, { positiveWhen: "low" }));
        expect(mirrored.value).toBeCloseTo(1 - known(plain).value, 12);
        expect(mirrored.low).toBeCloseTo(1 - known(plain).high, 10);
        const turned = columns([...rows].reverse());
        expect(
          known(areaUnderCurve({ values: turned.values, condition: turned.condition }, options))
            .value,
        ).toBe(known(plain).value);
      }),
    );
  });

  it("weights of 1 change nothing; a weight of 2 counts as two rows in the area", () => {
    fc.assert(
      fc.property(tiedRows, (rows) => {
        const { values, condition } = columns(rows);
        const options = { positiveWhen: "high" } as const;
        const plain = known(areaUnderCurve({ values, condition }, options));
        const one = known(
          areaUnderCurve({ values, condition, weights: rows.map(() => 1) }, options),
        );
        expect(one.value).toBeCloseTo(plain.value, 12);
        expect(one.se ?? 0).toBeCloseTo(plain.se ?? 0, 10);
        const twice = known(
          areaUnderCurve(
            { values, condition, weights: rows.map((_, at) => (at === 0 ? 2 : 1)) },
            options,
          ),
        );
        expect(twice.value).toBeCloseTo(
          areaByPairs([values[0], ...values], [condition[0], ...condition]),
          12,
        );
      }),
    );
  });
});

describe("areaUnderCurve: ends and faults", () => {
  const options = { positiveWhen: "high" } as const;
  it("complete separation has an exact limit on disjoint pairs, and no standard error", () => {
    const found = known(
      areaUnderCurve({ values: [1, 2, 3, 4, 5, 6, 7], condition: [0, 0, 0, 1, 1, 1, 1] }, options),
    );
    expect(found.value).toBe(1);
    expect(found.low).toBeCloseTo(0.025 ** (1 / 3), 12);
    expect(found.high).toBe(1);
    expect(found.se).toBeUndefined();
    // two eyes of each of four children: two disjoint pairs of children
    const eyes = known(
      areaUnderCurve(
        {
          values: [1, 5, 2, 6, 1, 7, 2, 8],
          condition: [0, 1, 0, 1, 0, 1, 0, 1],
          subjects: [1, 1, 2, 2, 3, 3, 4, 4],
        },
        options,
      ),
    );
    expect(eyes.low).toBeCloseTo(0.025 ** (1 / 2), 12);
  });

  it("an area below 0.5 is reported, never flipped", () => {
    const found = known(areaUnderCurve({ values: [3, 2, 4, 1], condition: [0, 0, 1, 1] }, options));
    expect(found.value).toBe(0.5);
    expect(
      known(areaUnderCurve({ values: [3, 4, 3.5, 1], condition: [0, 0, 1, 1] }, options)).value,
    ).toBe(0.25);
  });

  it("says why there is no answer", () => {
    expect(areaUnderCurve({ values: [1, 2], condition: [1, 1] }, options)).toEqual({
      kind: "undefined",
      reason: "no row is without the condition",
    });
    expect(areaUnderCurve({ values: [2, 2, 2], condition: [1, 0, 0] }, options).kind).toBe(
      "undefined",
    );
    expect(areaUnderCurve({ values: [2, 3, 1], condition: [1, 0, 0] }, options).kind).toBe(
      "undefined",
    );
  });

  it.each([
    [
      { values: [1, Number.NaN], condition: [0, 1] },
      options,
      "finite numbers in values, got NaN in row 1",
    ],
    [{ values: [1, 2, 3], condition: [0, 1] }, options, "columns of one length"],
    [{ values: [1, 2], condition: [0, Number.NaN] }, options, "neither with nor without"],
    [
      { values: [1, 2], condition: [0, 1] },
      wrong({}),
      'positiveWhen: "high" or "low", got undefined',
    ],
    [{ values: [1, 2], condition: [0, 1], subjects: [1] }, options, "columns of one length"],
  ])("%j is an error", (data, given, message) => {
    expect(() => areaUnderCurve(data, given)).toThrow(message);
  });
});

/** DeLong's and Obuchowski's variance, by definition. */
function varianceByDefinition(
  rows: readonly { value: number; with: boolean; child: number }[],
  unitOf: (row: { child: number }, at: number) => number,
): number {
  const cases = rows
    .map((row, at) => ({ ...row, unit: unitOf(row, at) }))
    .filter((row) => row.with);
  const controls = rows
    .map((row, at) => ({ ...row, unit: unitOf(row, at) }))
    .filter((row) => !row.with);
  const kernel = (a: number, b: number) => (a > b ? 1 : a === b ? 0.5 : 0);
  const mean = (list: number[]) => list.reduce((sum, x) => sum + x, 0) / list.length;
  const area = mean(cases.flatMap((a) => controls.map((b) => kernel(a.value, b.value))));
  const units = [...new Set([...cases, ...controls].map((row) => row.unit))];
  const x = units.map((unit) =>
    cases
      .filter((row) => row.unit === unit)
      .reduce((sum, a) => sum + mean(controls.map((b) => kernel(a.value, b.value))) - area, 0),
  );
  const y = units.map((unit) =>
    controls
      .filter((row) => row.unit === unit)
      .reduce((sum, b) => sum + mean(cases.map((a) => kernel(a.value, b.value))) - area, 0),
  );
  const dot = (a: number[], b: number[]) => a.reduce((sum, value, at) => sum + value * b[at], 0);
  const i10 = new Set(cases.map((row) => row.unit)).size;
  const i01 = new Set(controls.map((row) => row.unit)).size;
  const i = units.length;
  const s10 = (i10 / ((i10 - 1) * cases.length)) * dot(x, x);
  const s01 = (i01 / ((i01 - 1) * controls.length)) * dot(y, y);
  const s11 = (i / (i - 1)) * dot(x, y);
  return s10 / cases.length + s01 / controls.length + (2 * s11) / (cases.length * controls.length);
}
