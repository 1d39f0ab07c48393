import { describe, expect, test } from "vitest";
import { limitsOfAgreement, repeatability, withinDifference } from "../../src/agreement/index.js";
import { alignMeasurements, readFindings, readReadings } from "../../src/cohort/index.js";
import { createRandom } from "../../src/inference/index.js";
import { areaUnderCurve, compareInstruments, instrumentTable } from "../../src/thresholds/index.js";

// Invented eyes: every number is also made by the function it comes from, on rows chosen by hand.

const random = createRandom(3);
const truth = Array.from({ length: 60 }, () => 2 * random.normal());
const near = truth.map((value) => value + 0.2 * random.normal());
const far = truth.map((value) => value - 0.5 + 0.8 * random.normal());
const third = truth.map((value) => value + 0.4 * random.normal());
third[4] = Number.NaN;
const reference = truth.map((value, row) => (row === 7 ? Number.NaN : value));
const subjects = truth.map((_, row) => Math.floor(row / 2));
const instruments = { near, far, third };
const condition = { relation: "<=", limit: -0.5 } as const;
const comparison = compareInstruments({ instruments, reference, subjects }, { condition });
const kept = truth.flatMap((_, row) => (row === 4 || row === 7 ? [] : [row]));
const pick = <Value>(column: readonly Value[]) => kept.map((row) => column[row]!);

describe("compareInstruments", () => {
  test("compares the rows that all have, and counts what each lacks", () => {
    expect(comparison).toMatchObject({ n: 58, rows: 60, withoutReference: 1, subjects: 30 });
    expect(comparison.instruments.map(({ missing }) => missing)).toEqual([0, 0, 1]);
  });

  test("levels are Bonferroni's: 6 comparisons, 3 instruments, 3 pairs", () => {
    expect(comparison.levels).toEqual({
      agreement: 1 - 0.05 / 6,
      instruments: 1 - 0.05 / 3,
      pairs: 1 - 0.05 / 3,
    });
  });

  test("each number is that of its own function at that level", () => {
    const whose = { subjects: pick(subjects) };
    const [first] = comparison.instruments;
    const data = { test: pick(near), reference: pick(truth), ...whose };
    const alone = limitsOfAgreement(data, { level: 1 - 0.05 / 6 });
    expect(first!.agreement.bias).toEqual(alone.bias);
    expect(first!.agreement.lower).toEqual(alone.lower);
    expect(first!.within).toEqual(
      withinDifference(data, { acceptable: [0.5], level: 1 - 0.05 / 3 }).shares[0]!.within,
    );
    const has = pick(truth).map((value) => value <= -0.5);
    expect(first!.area).toEqual(
      areaUnderCurve(
        { values: pick(near), condition: has, ...whose },
        { positiveWhen: "low", level: 1 - 0.05 / 3 },
      ),
    );
    const between = limitsOfAgreement(
      { test: pick(near), reference: pick(far), ...whose },
      { level: 1 - 0.05 / 6 },
    );
    expect(comparison.pairs[0]).toMatchObject({ first: "near", second: "far" });
    expect(comparison.pairs[0]!.agreement.bias).toEqual(between.bias);
  });

  test("who is nearer to the reference: mean distance, first minus second", () => {
    const [pair] = comparison.pairs;
    const distance = (values: readonly number[]) =>
      kept.reduce((sum, row) => sum + Math.abs(values[row]! - truth[row]!), 0) / kept.length;
    expect(pair!.nearer.value).toBeCloseTo(distance(near) - distance(far), 12);
    expect(pair!.nearer.high).toBeLessThan(0);
  });

  test("repeats give the repeatability of their instrument", () => {
    const repeats = { near: { values: [1, 1.25, 2, 2.5, 3, 3], units: [1, 1, 2, 2, 3, 3] } };
    const [first, second] = compareInstruments({ instruments, reference, repeats }).instruments;
    expect(first!.repeatability).toEqual(repeatability(repeats.near, { level: 1 - 0.05 / 3 }));
    expect(second!.repeatability).toBeNull();
    expect(first!.area).toBeNull();
  });

  test("one instrument, strange repeats and too few common rows are refused", () => {
    expect(() => compareInstruments({ instruments: { near }, reference })).toThrow(
      "requires at least 2 instruments, got 1",
    );
    const repeats = { nobody: { values: [1], units: [1] } };
    expect(() => compareInstruments({ instruments, reference, repeats })).toThrow('got "nobody"');
    const empty = truth.map(() => Number.NaN);
    expect(() => compareInstruments({ instruments: { near, empty }, reference })).toThrow(
      "requires at least 3 rows with a value of every instrument",
    );
  });
});

// Own simulation: three instruments without bias, 40 children with two eyes; all six biases are held at once in at
// least 95 % of studies (Bonferroni is conservative where comparisons hang together).
test("the intervals of the biases hold together", () => {
  const draw = createRandom(11);
  let held = 0;
  const studies = 200;
  for (let study = 0; study < studies; study++) {
    const children = Array.from({ length: 80 }, (_, row) => row >> 1);
    const real = children.map(() => draw.normal());
    const shared = [0, 1, 2].map(() => Array.from({ length: 40 }, () => 0.4 * draw.normal()));
    const make = (at: number) =>
      real.map((value, row) => value + shared[at]![row >> 1]! + 0.4 * draw.normal());
    const result = compareInstruments({
      instruments: { a: make(0), b: make(1), c: make(2) },
      reference: real,
      subjects: children,
    });
    const biases = [...result.instruments, ...result.pairs].map(({ agreement }) => agreement.bias);
    if (biases.every(({ low, high }) => low <= 0 && high >= 0)) held++;
  }
  expect(held / studies).toBeGreaterThanOrEqual(0.93);
});

test("the table: each against the reference, each pair; small counts are for journals", () => {
  const table = instrumentTable(comparison, { audience: "journal" });
  expect(table.rows.map(({ cells }) => cells[0])).toEqual([
    "Against the reference (instrument minus reference)",
    "near",
    "far",
    "third",
    "Against each other (first minus second)",
    "near minus far",
    "near minus third",
    "far minus third",
  ]);
  expect(table.rows[1]!.cells[1]).toEqual(comparison.instruments[0]!.agreement.bias);
  expect(table.notes).toContain(
    "2 of 60 rows are left out, because an instrument or the reference has no value in them: near 0, far 0, third 1, reference 1.",
  );
  const [, open] = instrumentTable(comparison).rows;
  expect(open!.cells[4]).toMatchObject({ kind: "suppressed" });
  expect(open!.cells[2]).toEqual(comparison.instruments[0]!.agreement.lower);
});

describe("alignMeasurements", () => {
  const eye = (subject: string, side: string, sphere: number | "", more: object) => {
    return { subject, eye: side, sphere, cylinder: sphere === "" ? "" : 0, axis: "", ...more };
  };
  test("lays sources side by side; nobody is dropped, repeats go along", async () => {
    const readings = await readReadings([
      eye("a", "OD", -1, { instrument: "x", repeat: 1 }),
      eye("a", "OD", -1.25, { instrument: "x", repeat: 2 }),
      eye("a", "OD", -1.5, { instrument: "y", repeat: 1 }),
      eye("b", "OS", "", { instrument: "x", repeat: 1, status: "unreadable" }),
    ]);
    const findings = await readFindings([eye("c", "OD", 2, {}), eye("a", "OD", -2, {})]);
    const aligned = alignMeasurements(
      {
        x: { data: readings, select: { instrument: "x" } },
        y: { data: readings, select: { instrument: "y" } },
        last: { data: readings, select: { instrument: "x" }, which: "last" },
        exam: { data: findings },
      },
      { eyes: "both" },
    );
    expect(aligned).toMatchObject({ n: 3, children: 3, eye: ["right", "left", "right"] });
    expect(aligned.values).toEqual({
      x: Float64Array.of(-1, Number.NaN, Number.NaN),
      y: Float64Array.of(-1.5, Number.NaN, Number.NaN),
      last: Float64Array.of(-1.25, Number.NaN, Number.NaN),
      exam: Float64Array.of(-2, Number.NaN, 2),
    });
    expect(aligned.repeats.x).toEqual({
      values: Float64Array.of(-1, -1.25),
      units: ["right", "right"],
      subjects: Int32Array.of(0, 0),
    });
    expect(aligned.outcomes.x).toMatchObject({ measured: 1, unreadable: 1, none: 1 });
  });

  test("planes that differ need one to compare at", async () => {
    const readings = await readReadings([eye("a", "OD", -8, {})]);
    const [one, other] = [
      { data: { ...readings, vertexMm: 12 } },
      { data: { ...readings, vertexMm: 0 } },
    ];
    expect(() => alignMeasurements({ one, other }, { eyes: "right" })).toThrow(
      "requires vertexMm where the vertex planes differ, got planes at 12, 0 mm",
    );
    const { values } = alignMeasurements({ one, other }, { eyes: "right", vertexMm: 0 });
    expect(values.one![0]).toBeCloseTo(-8 / 1.096, 9);
    expect(() => alignMeasurements({ one }, { eyes: "random" as "both" })).toThrow(
      'requires eyes "right", "left" or "both"',
    );
  });
});
