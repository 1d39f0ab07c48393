import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { toPowerVector, toPowerVectors } from "../../src/refraction/index.js";
import { InputError } from "../../src/results/index.js";

describe("toPowerVectors", () => {
  test("each row is the scalar form, to the last bit", () => {
    const row = fc.record({
      sphere: fc.double({ min: -40, max: 40, noNaN: true }),
      cylinder: fc.double({ min: -20, max: 20, noNaN: true }),
      axis: fc.oneof(
        fc.integer({ min: 0, max: 180 }),
        fc.double({ min: 0, max: 180, noNaN: true }),
      ),
    });
    fc.assert(
      fc.property(fc.array(row), fc.boolean(), (rows, typed) => {
        const column = (name: "sphere" | "cylinder" | "axis") => {
          const values = rows.map((lens) => lens[name]);
          return typed ? Float64Array.from(values) : values;
        };
        const found = toPowerVectors({
          sphere: column("sphere"),
          cylinder: column("cylinder"),
          axis: column("axis"),
        });
        rows.forEach((lens, index) => {
          const { M, J0, J45 } = toPowerVector(lens);
          // Object.is: a zero keeps its sign
          expect(Object.is(found.M[index], M)).toBe(true);
          expect(Object.is(found.J0[index], J0)).toBe(true);
          expect(Object.is(found.J45[index], J45)).toBe(true);
        });
      }),
      { numRuns: 500 },
    );
  });

  test("whole degrees: the table holds what cosine and sine of the folded angle give", () => {
    for (let axis = 1; axis < 45; axis++) {
      const { J0, J45 } = toPowerVector({ sphere: 0, cylinder: -2, axis });
      expect(J0).toBe(Math.cos(axis * (Math.PI / 90)));
      expect(J45).toBe(Math.sin(axis * (Math.PI / 90)));
    }
  });

  test("an axis, its mirror image and its perpendicular give the same digits up to the sign", () => {
    const of = (axis: number) => toPowerVector({ sphere: 0, cylinder: -2, axis });
    // in steps of an eighth, which 180 minus an axis keeps exactly
    for (let axis = 0; axis <= 45; axis += 0.125) {
      const { J0, J45 } = of(axis);
      expect(of(180 - axis)).toEqual({ M: -1, J0, J45: 0 - J45 });
      expect(of(90 - axis)).toEqual({ M: -1, J0: 0 - J0, J45 });
      expect(of(90 + axis)).toEqual({ M: -1, J0: 0 - J0, J45: 0 - J45 });
    }
  });

  test("the table agrees with the unfolded formula within two units in the last place of 1", () => {
    for (let axis = 0; axis <= 180; axis++) {
      const { J0, J45 } = toPowerVector({ sphere: 0, cylinder: -2, axis });
      // the unfolded angle itself is rounded: 2 pi has an error of 2.4e-16
      expect(Math.abs(J0 - Math.cos((axis * Math.PI) / 90))).toBeLessThan(1e-15);
      expect(Math.abs(J45 - Math.sin((axis * Math.PI) / 90))).toBeLessThan(1e-15);
    }
  });

  test("missing values travel", () => {
    const found = toPowerVectors({
      sphere: [Number.NaN, 1, 1, 1, 1, Number.NaN],
      cylinder: [-1, Number.NaN, -1, 0, -1, 0],
      axis: [90, 90, Number.NaN, Number.NaN, 90, Number.NaN],
    });
    expect([...found.M]).toEqual([NaN, NaN, 0.5, 1, 0.5, NaN]);
    expect([...found.J0]).toEqual([NaN, NaN, NaN, 0, -0.5, NaN]);
    expect([...found.J45]).toEqual([NaN, NaN, NaN, 0, 0, NaN]);
  });

  test.each([
    [40.25, 0, 90, /got 40.25, 0, 90 at index 1$/],
    [-41, 0, 90, /got -41, 0, 90 at index 1$/],
    [0, 20.5, 90, /got 0, 20.5, 90 at index 1$/],
    [0, -1, 181, /got 0, -1, 181 at index 1$/],
    [0, -1, -1, /got 0, -1, -1 at index 1$/],
    [Number.POSITIVE_INFINITY, 0, 90, /got Infinity, 0, 90 at index 1$/],
  ])("refuses %d %d x %d", (sphere, cylinder, axis, message) => {
    const columns = { sphere: [0, sphere], cylinder: [0, cylinder], axis: [90, axis] };
    expect(() => toPowerVectors(columns)).toThrow(InputError);
    expect(() => toPowerVectors(columns)).toThrow(message);
  });

  test("writes into arrays that are there", () => {
    const into = { M: Float64Array.of(9), J0: Float64Array.of(9), J45: Float64Array.of(9) };
    const columns = { sphere: [1], cylinder: [0], axis: [Number.NaN] };
    expect(toPowerVectors(columns, { into })).toBe(into);
    expect([into.M[0], into.J0[0], into.J45[0]]).toEqual([1, 0, 0]);
    expect(() => toPowerVectors({ sphere: [], cylinder: [], axis: [] }, { into })).toThrow(
      /into to hold 0 rows, got 1, 1 and 1$/,
    );
    const short = new Float64Array(0);
    expect(() => toPowerVectors(columns, { into: { ...into, J0: short } })).toThrow(/1, 0 and 1$/);
    expect(() => toPowerVectors(columns, { into: { ...into, J45: short } })).toThrow(/1, 1 and 0$/);
  });

  test("columns of unequal length", () => {
    expect(() => toPowerVectors({ sphere: [1, 2], cylinder: [0], axis: [0, 0] })).toThrow(
      "toPowerVectors requires columns of one length, got 2, 1 and 2",
    );
  });
});
