import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { limitsOfAgreement, vectorAgreement } from "../../src/agreement/index.js";
import { createRandom, type Estimate } from "../../src/index.js";

const value = fc.integer({ min: -800, max: 800 }).map((k) => k / 100);
const pairs = fc.array(fc.tuple(value, value), { minLength: 4, maxLength: 60 });

function columns(rows: [number, number][]) {
  return { test: rows.map(([test]) => test), reference: rows.map(([, reference]) => reference) };
}

function numbers({ value, low, high }: Estimate): number[] {
  return [value, low, high];
}

function expectClose(seen: number[], expected: number[], digits = 9) {
  seen.forEach((number, index) => {
    expect(number).toBeCloseTo(expected[index], digits);
  });
}

/** Mirrored: signs turned, low and high exchanged. */
function mirrored({ value, low, high }: Estimate): number[] {
  return [-value, -high, -low];
}

const intervals = ["exact", "approximate", "mover"] as const;

describe("laws of limitsOfAgreement", () => {
  test("swapping test and reference mirrors bias, limits and their intervals", () => {
    fc.assert(
      fc.property(pairs, fc.constantFrom(...intervals), (rows, interval) => {
        const { test: a, reference: b } = columns(rows);
        const one = limitsOfAgreement({ test: a, reference: b }, { interval });
        const other = limitsOfAgreement({ test: b, reference: a }, { interval });
        expectClose(numbers(one.bias), mirrored(other.bias));
        expectClose(numbers(one.lower), mirrored(other.upper));
        expectClose(numbers(one.upper), mirrored(other.lower));
        expectClose(numbers(one.sd), numbers(other.sd));
      }),
      { numRuns: 60, seed: 1 },
    );
  });

  test("a constant added to test moves the bias and both limits, no width", () => {
    fc.assert(
      fc.property(pairs, value, fc.constantFrom(...intervals), (rows, constant, interval) => {
        const { test: a, reference } = columns(rows);
        const one = limitsOfAgreement({ test: a, reference }, { interval });
        const moved = limitsOfAgreement(
          { test: a.map((x) => x + constant), reference },
          { interval },
        );
        for (const name of ["bias", "lower", "upper"] as const) {
          expectClose(
            numbers(moved[name]),
            numbers(one[name]).map((x) => x + constant),
          );
        }
        expectClose(numbers(moved.sd), numbers(one.sd));
      }),
      { numRuns: 60, seed: 2 },
    );
  });

  test("row order is irrelevant, with subjects and units too", () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(value, value, fc.integer({ min: 0, max: 5 }), fc.boolean()), {
          minLength: 12,
          maxLength: 40,
        }),
        (rows) => {
          const data = (list: typeof rows) => ({
            test: list.map(([x]) => x),
            reference: list.map(([, x]) => x),
            subjects: list.map(([, , subject]) => subject),
            units: list.map(([, , , right]) => (right ? "right" : "left")),
          });
          fc.pre(new Set(rows.map(([, , subject]) => subject)).size >= 4);
          const one = limitsOfAgreement(data(rows));
          const other = limitsOfAgreement(data(rows.toReversed()));
          for (const name of ["bias", "sd", "lower", "upper"] as const) {
            expectClose(numbers(one[name]), numbers(other[name]));
          }
          const { below, above } = one.outside;
          expect(other.outside).toMatchObject({ below, above });
        },
      ),
      { numRuns: 60, seed: 3 },
    );
  });

  test("clusters of size one take the plain path", () => {
    const data = columns([
      [1, 2],
      [2, 2.5],
      [4, 3],
      [5, 6],
      [7, 7.5],
    ]);
    const plain = limitsOfAgreement(data);
    const single = limitsOfAgreement({ ...data, subjects: ["a", "b", "c", "d", "e"] });
    expect({ ...single, notes: [] }).toEqual({ ...plain, notes: [] });
  });

  test("two identical eyes a child give the interval of one eye a child under mover", () => {
    fc.assert(
      fc.property(pairs, (rows) => {
        const { test: a, reference: b } = columns(rows);
        const one = limitsOfAgreement({ test: a, reference: b }, { interval: "mover" });
        const ids = [...a.keys()];
        const two = limitsOfAgreement(
          { test: [...a, ...a], reference: [...b, ...b], subjects: [...ids, ...ids] },
          { interval: "mover", normality: "skip" },
        );
        for (const name of ["bias", "sd", "lower", "upper"] as const) {
          expectClose(numbers(one[name]), numbers(two[name]), 8);
        }
      }),
      { numRuns: 60, seed: 4 },
    );
  });

  test("three levels find the variances they were made from", () => {
    const random = createRandom(11);
    const data = {
      test: [] as number[],
      reference: [] as number[],
      subjects: [] as number[],
      units: [] as string[],
    };
    for (let child = 0; child < 1500; child++) {
      const ofChild = 0.8 * random.normal();
      for (const eye of ["right", "left"]) {
        const ofEye = ofChild + 0.5 * random.normal();
        for (let reading = 0; reading < 3; reading++) {
          data.test.push(ofEye + 0.3 * random.normal());
          data.reference.push(0);
          data.subjects.push(child);
          data.units.push(eye);
        }
      }
    }
    const r = limitsOfAgreement(data, { normality: "skip" });
    expect(r.design).toBe("clustered-repeats");
    expect(r.units).toBe(3000);
    // Five standard errors of each variance at this size.
    expect(Math.abs((r.components.betweenSubjects ?? 0) - 0.64)).toBeLessThan(0.16);
    expect(Math.abs((r.components.withinSubjects ?? 0) - 0.25)).toBeLessThan(0.06);
    expect(Math.abs((r.components.testRepeats ?? 0) - 0.09)).toBeLessThan(0.01);
    expect(r.components.referenceRepeats).toBe(0);
    expect(Math.abs(r.sd.value ** 2 - 0.98)).toBeLessThan(0.17);
  });

  test("the slope, by definition, and its caution", () => {
    const data = columns([
      [1, 2],
      [2, 2.5],
      [4, 3],
      [5, 6],
      [7, 7.5],
      [9, 8],
    ]);
    const slopeOf = (x: number[]) => {
      const d = data.test.map((t, i) => t - data.reference[i]);
      const mean = (v: number[]) => v.reduce((a, b) => a + b) / v.length;
      const [mx, md] = [mean(x), mean(d)];
      return (
        x.reduce((sum, v, i) => sum + (v - mx) * (d[i] - md), 0) /
        x.reduce((sum, v) => sum + (v - mx) ** 2, 0)
      );
    };
    const means = data.test.map((t, i) => (t + data.reference[i]) / 2);
    expect(limitsOfAgreement(data).slope.value).toBeCloseTo(slopeOf(means), 12);
    const onReference = limitsOfAgreement(data, { trend: "reference" });
    expect(onReference.slope.value).toBeCloseTo(slopeOf(data.reference), 12);
    expect(onReference.notes.join(" ")).toContain("partly artefact");
    expect(limitsOfAgreement(data, { trend: "test" }).slope.value).toBeCloseTo(
      slopeOf(data.test),
      12,
    );
  });

  test("refusals name what was required and what was got", () => {
    const data = columns([
      [1, 2],
      [2, 2.5],
      [4, 3],
    ]);
    expect(() => limitsOfAgreement({ ...data, test: [1, 2] })).toThrow(
      "one length, got test 2, reference 3",
    );
    expect(() => limitsOfAgreement({ ...data, test: [1, Number.NaN, 3] })).toThrow(
      "limitsOfAgreement requires finite numbers in test, got NaN in row 1",
    );
    expect(() => limitsOfAgreement(data, { coverage: 0.9, multiplier: 2 })).toThrow("got both");
    expect(() => limitsOfAgreement(data, { intervalFor: "pair", interval: "mover" })).toThrow(
      'requires interval "exact" for limits "pair"',
    );
    expect(() => limitsOfAgreement(data, { readings: 2 })).toThrow("units that repeat");
    expect(() => limitsOfAgreement({ ...data, subjects: ["a", "a", "b"] })).toThrow(
      "at least 3 subjects, got 2",
    );
  });

  test("inputs are not touched", () => {
    const data = columns([
      [1, 2],
      [2, 2.5],
      [4, 3],
      [5, 5],
    ]);
    Object.freeze(data.test);
    Object.freeze(data.reference);
    const subjects = Object.freeze(["a", "a", "b", "c"]) as string[];
    expect(() => limitsOfAgreement({ ...data, subjects }, { replicates: 20 })).not.toThrow();
  });

  test("the bootstrap is a function of its seed", () => {
    const data = {
      ...columns([
        [1, 2],
        [2, 2],
        [4, 3],
        [5, 6],
        [7, 7],
      ]),
      subjects: [1, 1, 2, 3, 4],
    };
    const run = (seed: number) =>
      limitsOfAgreement(data, { interval: "bootstrap", replicates: 50, seed });
    expect(run(1)).toEqual(run(1));
    expect(run(2).lower.low).not.toBe(run(1).lower.low);
  });
});

describe("laws of vectorAgreement", () => {
  const vectors = fc.array(fc.tuple(value, value, value, value, value, value), {
    minLength: 8,
    maxLength: 30,
  });
  const build = (rows: number[][]) => ({
    test: rows.map(([M, J0, J45]) => ({ M, J0, J45 })),
    reference: rows.map(([, , , M, J0, J45]) => ({ M, J0, J45 })),
  });

  test("swapping mirrors the mean; T², covariance, distances stay", () => {
    fc.assert(
      fc.property(vectors, (rows) => {
        const { test: a, reference: b } = build(rows);
        const one = vectorAgreement({ test: a, reference: b });
        const other = vectorAgreement({ test: b, reference: a });
        expect(one.mean.J45).toBeCloseTo(-other.mean.J45, 9);
        expectClose(one.covariance.flat(), other.covariance.flat());
        expect(one.distances).toEqual(other.distances);
        if (one.hotelling.kind === "hotelling" && other.hotelling.kind === "hotelling") {
          expect(one.hotelling.t2 / other.hotelling.t2).toBeCloseTo(1, 6);
        }
      }),
      { numRuns: 50, seed: 5 },
    );
  });

  test("eyes mirrored here or by the caller: the same answer", () => {
    fc.assert(
      fc.property(vectors, (rows) => {
        const { test: a, reference: b } = build(rows);
        const eyes = rows.map((_, i) => (i % 2 === 0 ? ("right" as const) : ("left" as const)));
        const turn = (list: typeof a) =>
          list.map((v, i) => (eyes[i] === "left" ? { ...v, J45: -v.J45 } : v));
        const here = vectorAgreement({ test: a, reference: b, eyes });
        const before = vectorAgreement({ test: turn(a), reference: turn(b) });
        expect({ ...here, mirrored: false }).toEqual(before);
      }),
      { numRuns: 30, seed: 6 },
    );
  });

  test("two identical eyes a child: T² of one eye a child", () => {
    fc.assert(
      fc.property(vectors, (rows) => {
        const { test: a, reference: b } = build(rows);
        const ids = [...a.keys()];
        const one = vectorAgreement({ test: a, reference: b });
        const two = vectorAgreement({
          test: [...a, ...a],
          reference: [...b, ...b],
          subjects: [...ids, ...ids],
        });
        expectClose(two.meanCovariance.flat(), one.meanCovariance.flat());
        if (one.hotelling.kind === "hotelling" && two.hotelling.kind === "hotelling") {
          expect(two.hotelling.df).toEqual(one.hotelling.df);
          expect(two.hotelling.t2 / one.hotelling.t2).toBeCloseTo(1, 6);
        }
      }),
      { numRuns: 30, seed: 8 },
    );
  });
});
