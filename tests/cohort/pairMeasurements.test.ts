import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { limitsOfAgreement } from "../../src/agreement/index.js";
import {
  eyePairs,
  linkCohort,
  pairMeasurements,
  readFindings,
  readReadings,
} from "../../src/cohort/index.js";

// Invented measurements. No reference values are needed: what is paired is said by the rows.

const row = (subject: string, eye: "OD" | "OS", sphere: number | "", more: object = {}) => {
  return { subject, eye, sphere, cylinder: sphere === "" ? "" : 0, axis: "", ...more };
};
const two = await readReadings([
  row("a", "OD", -1, { instrument: "x", day: 0 }),
  row("a", "OS", -2, { instrument: "x", day: 0 }),
  row("b", "OD", -3, { instrument: "x", day: 0 }),
  row("c", "OD", "", { instrument: "x", day: 0, status: "unreadable" }),
  row("d", "OD", -4, { instrument: "x", day: 0 }),
  row("a", "OD", -1.5, { instrument: "y", day: 2 }),
  row("a", "OD", -1.25, { instrument: "y", day: -1 }),
  row("b", "OD", "", { instrument: "y", day: 9, status: "over-range" }),
  row("c", "OD", -1, { instrument: "y", day: 1 }),
  row("e", "OD", -1, { instrument: "y", day: 1 }),
]);
const select = { first: { instrument: "x" }, second: { instrument: "y" } };

describe("two instruments of one file", () => {
  test("each eye has one outcome, and the flow counts them", () => {
    const pairs = pairMeasurements(two, two, { ...select, eyes: "both" });
    expect([...pairs.test]).toEqual([-1]);
    // the first of two by day
    expect([...pairs.reference]).toEqual([-1.25]);
    expect([...pairs.days!]).toEqual([-1]);
    expect(pairs.names).toEqual({ first: "x", second: "y" });
    expect(pairs.excluded).toEqual([
      { reason: "no-first", children: 1, eyes: 1 },
      { reason: "first-unreadable", children: 1, eyes: 1 },
      { reason: "no-second", children: 1, eyes: 2 },
      { reason: "second-over-range", children: 1, eyes: 1 },
    ]);
    expect(pairs.flow.boxes.at(-1)).toMatchObject({ id: "paired", children: 1, eyes: 1 });
    expect(pairs.flow.boxes[0]).toMatchObject({ id: "all", children: 5, eyes: 6 });
  });

  test("last, nearest, and a window of days", () => {
    const of = (more: object) => pairMeasurements(two, two, { ...select, eyes: "right", ...more });
    expect(of({ which: { second: "last" } }).reference[0]).toBe(-1.5);
    expect(of({ which: { second: "nearest" } }).reference[0]).toBe(-1.25);
    expect(of({ daysBetween: [0, 5] }).reference[0]).toBe(-1.5);
    expect(of({ daysBetween: [3, 5] }).excluded).toContainEqual({
      reason: "outside-window",
      children: 2,
      eyes: 2,
    });
  });

  test("unlike measurements, common rows and unknown choices are refused", () => {
    expect(() => pairMeasurements(two, two, { ...select, first: {}, eyes: "both" })).toThrow(
      "requires instrument in first where its measurements differ in it, got x, y",
    );
    const same = { ...select, second: { instrument: "x" } };
    expect(() => pairMeasurements(two, two, { ...same, eyes: "both" })).toThrow(
      "two selections without a common row, got 5 rows in both",
    );
    const wrong = { ...select, first: { instrument: "z" } };
    expect(() => pairMeasurements(two, two, { ...wrong, eyes: "both" })).toThrow(
      'instrument of first that the rows hold, got "z"; they hold "x" (',
    );
    const misspelt = { first: { instrumnt: "x" } as object, second: {} };
    expect(() => pairMeasurements(two, two, { ...misspelt, eyes: "both" })).toThrow(
      'got "instrumnt"; did you mean "instrument"?',
    );
    expect(() => pairMeasurements(two, two, { ...select, eyes: "left eye" as "left" })).toThrow(
      'requires eyes "right", "left", "both" or "right-with-left"',
    );
  });
});

test("right with left: a child is one row, J45 of the left eye is mirrored", async () => {
  const eyes = await readReadings([
    { subject: "a", eye: "OD", sphere: 0, cylinder: -2, axis: 45 },
    { subject: "a", eye: "OS", sphere: 1, cylinder: -2, axis: 135 },
    { subject: "b", eye: "OS", sphere: 1, cylinder: -2, axis: 135 },
  ]);
  const pairs = pairMeasurements(eyes, eyes, { eyes: "right-with-left", quantity: "J45" });
  expect(pairs.leftMirrored).toBe(true);
  expect([pairs.test[0], pairs.reference[0]]).toEqual([1, 1]);
  expect(pairs.excluded).toEqual([{ reason: "no-first", children: 1, eyes: 1 }]);
  const M = pairMeasurements(eyes, eyes, { eyes: "right-with-left" });
  expect([M.test[0], M.reference[0], M.leftMirrored]).toEqual([-1, 0, false]);
  expect(M.names).toEqual({ first: "right eye", second: "left eye" });
});

test("two visits by days, two examiners by an own column, dry and wet by cycloplegia", async () => {
  const columns = {
    kind: "columns",
    version: 1,
    columns: { subject: "id", eye: "eye", day: "day" },
    readings: [
      {
        own: { examiner: "who" },
        cycloplegia: { codes: { dry: "none", wet: "full" } },
        columns: { sphere: "s", cylinder: "c", axis: "a", cycloplegia: "state" },
      },
    ],
  };
  const line = (day: number, who: string, state: string, s: number) => {
    return { id: "a", eye: "OD", day, who, state, s, c: 0, a: 0 };
  };
  const readings = await readReadings(
    [
      line(0, "p", "dry", 1),
      line(0, "q", "dry", 2),
      line(90, "p", "dry", 3),
      line(0, "p", "wet", 4),
    ],
    { columns },
  );
  const of = (first: object, second: object) => {
    const pairs = pairMeasurements(readings, readings, { first, second, eyes: "both" });
    return [pairs.test[0], pairs.reference[0], pairs.own?.second.examiner];
  };
  const dry = { cycloplegia: "none", own: { examiner: "p" } };
  expect(of({ ...dry, days: [0, 30] }, { ...dry, days: [60, 120] })).toEqual([1, 3, ["p"]]);
  const q = { cycloplegia: "none", own: { examiner: ["q"] } };
  expect(of({ ...dry, days: [0, 30] }, q)).toEqual([1, 2, ["q"]]);
  expect(of({ ...dry, days: [0, 30] }, { cycloplegia: "full" })).toEqual([1, 4, ["p"]]);
  expect(() => of({ own: { doctor: "x" } }, q)).toThrow('own columns in first, got "doctor"');
});

test("the first is brought to the second's vertex plane", async () => {
  const readings = await readReadings([row("a", "OD", -8)]);
  const findings = await readFindings([row("a", "OD", -7)]);
  const pairs = pairMeasurements(
    { ...readings, vertexMm: 12 },
    { ...findings, vertexMm: 0 },
    { eyes: "right" },
  );
  // -8 / (1 + 0.012 * 8), the usual vertex formula, by hand
  expect(pairs.test[0]).toBeCloseTo(-8 / 1.096, 9);
});

test("goes into functions of agreement as it is", async () => {
  const first = await readReadings(
    Array.from({ length: 8 }, (_, k) => row(`k${k}`, "OD", k / 2 + (k % 3) / 4)),
  );
  const second = await readReadings(Array.from({ length: 8 }, (_, k) => row(`k${k}`, "OD", k / 2)));
  const pairs = pairMeasurements(first, second, { eyes: "both" });
  expect(limitsOfAgreement(pairs).bias.value).toBeCloseTo((0 + 1 + 2 + 0 + 1 + 2 + 0 + 1) / 32, 12);
});

test("property: with readings and findings it pairs what linkCohort pairs; boxes add up", async () => {
  const eye = fc.record({
    subject: fc.constantFrom("a", "b", "c", "d"),
    eye: fc.constantFrom("OD" as const, "OS" as const),
    sphere: fc.integer({ min: -8, max: 8 }).map((n) => n / 4),
    status: fc.constantFrom("measured", "measured", "unreadable", "not-attempted"),
    day: fc.integer({ min: 0, max: 3 }),
  });
  const table = fc.array(eye, { minLength: 1, maxLength: 10 });
  const filled = (rows: readonly { status: string; sphere: number }[]) =>
    rows.map((one) => {
      const none = one.status !== "measured";
      return { ...one, sphere: none ? "" : one.sphere, cylinder: none ? "" : 0, axis: "" };
    });
  await fc.assert(
    fc.asyncProperty(table, table, async (one, other) => {
      const readings = await readReadings(filled(one));
      const findings = await readFindings(
        filled(other)
          .filter((row) => row.status !== "not-attempted")
          .concat(filled([{ ...other[0]!, status: "measured" }])),
      );
      const pairs = pairMeasurements(readings, findings, { eyes: "both", daysBetween: [-1, 2] });
      const linked = eyePairs(linkCohort({ readings, findings, daysBetween: [-1, 2] }), {
        eyes: "both",
      });
      const sorted = (data: { test: Float64Array; reference: Float64Array }) =>
        Array.from(data.test, (value, at) => `${value} ${data.reference[at]}`).sort();
      // a finding that is not usable is chosen by both in the same way
      expect(sorted(pairs)).toEqual(sorted(linked));
      for (const box of pairs.flow.boxes) {
        const parts = pairs.flow.boxes.filter(({ partOf }) => partOf === box.id);
        if (parts.length === 0) continue;
        for (const unit of ["eyes", "children"] as const) {
          expect(parts.reduce((sum, part) => sum + part[unit], 0)).toBe(box[unit]);
        }
      }
    }),
    { numRuns: 100 },
  );
});
