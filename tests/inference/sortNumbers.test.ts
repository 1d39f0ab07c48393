import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { createRandom } from "../../src/inference/random.js";
import { sortNumbers } from "../../src/inference/sortNumbers.js";

/** The built-in sort, -0 before 0. */
function expectSorted(values: Float64Array): void {
  const expected = values.slice().sort();
  expect(sortNumbers(values)).toEqual(expected);
}

const random = createRandom(20261126);
const many = (of: (row: number) => number) =>
  Float64Array.from({ length: 20_000 }, (_, row) => of(row));

describe("sortNumbers", () => {
  it.each([
    ["normal", () => random.normal()],
    ["in steps", () => Math.round(random.normal() * 4) / 4],
    ["of all sizes and signs", () => random.normal() * 10 ** (600 * random.uniform() - 300)],
    ["0, -0 and the smallest", () => [0, -0, 5e-324, -5e-324, 1][random.integer(5)]],
    ["alike in the upper half", () => 1e6 + random.uniform() * 1e-6],
    ["alike in pairs", (row: number) => (row >> 1) + random.uniform() * 1e-12],
    ["ascending", (row: number) => row],
    ["descending", (row: number) => -row],
    ["one value", () => 0.1],
    ["largest", () => (random.uniform() < 0.5 ? 1 : -1) * Number.MAX_VALUE],
  ] as const)("20,000 numbers: %s", (_, of) => {
    expectSorted(many(of));
  });

  it("numbers of any kind, and part of a longer array", () => {
    const number = fc.double({ noNaN: true, noDefaultInfinity: true });
    fc.assert(
      fc.property(fc.array(number, { minLength: 1, maxLength: 60 }), fc.boolean(), (some, part) => {
        const list = Float64Array.from({ length: 3000 }, (_, row) => some[(7 * row) % some.length]);
        expectSorted(part ? list.subarray(500, 2900) : list);
      }),
      { numRuns: 100, seed: 1 },
    );
    expect(sortNumbers(new Float64Array(0))).toEqual(new Float64Array(0));
  });
});
