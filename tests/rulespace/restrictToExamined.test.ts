import fc from "fast-check";
import { expect, test } from "vitest";
import { restrictToExamined } from "../../src/rulespace/restrictToExamined.js";
import { ruleAt } from "../../src/rulespace/ruleAt.js";
import { ruleSpace } from "../../src/rulespace/ruleSpace.js";

// The definition: rows of the region are those that some rule of the region refers, so both spaces
// refer the same children with and without the condition, and outside it nobody is referred.
test.each(["refer", "pass", "exclude"] as const)(
  "missing values under %s: a rule of the region refers the same children as in the whole programme",
  (unreadable) => {
    const value = fc.oneof(fc.integer({ min: 0, max: 5 }), fc.constant(Number.NaN));
    const child = fc.record({
      a: value,
      b: value,
      half: fc.integer({ min: 0, max: 5 }),
      ill: fc.boolean(),
    });
    let withMissing = 0;
    fc.assert(
      fc.property(fc.array(child, { minLength: 1, maxLength: 40 }), (children) => {
        const data = {
          measures: { a: children.map(({ a }) => a), b: children.map(({ b }) => b) },
          atLeast: { a: children.map(({ half }) => half), b: children.map(() => Number.NaN) },
          condition: children.map(({ ill }) => ill),
          limits: { a: [1, 2, 3, 4], b: [2, 4, Number.POSITIVE_INFINITY] },
        };
        const everybody = children.map(() => true);
        const region = restrictToExamined(
          { ...data, examined: everybody },
          { a: 2, b: 4 },
          { undecidable: unreadable },
        );
        expect(region.n + region.below).toBe(children.length);
        const whole = ruleSpace(data, { undecidable: unreadable });
        const part = ruleSpace(region, { undecidable: unreadable });
        for (const a of [2, 3, 4]) {
          for (const b of [4, Number.POSITIVE_INFINITY]) {
            const all = ruleAt(whole, { a, b });
            const inside = ruleAt(part, { a, b });
            expect(inside.truePositive).toBe(all.truePositive);
            expect(inside.falsePositive).toBe(all.falsePositive);
          }
        }
        const lowest = ruleAt(part, { a: 2, b: 4 });
        expect(lowest.truePositive + lowest.falsePositive).toBe(region.n);
        if (children.some(({ a }) => Number.isNaN(a))) withMissing++;
      }),
      { seed: 20261126, numRuns: 300 },
    );
    expect(withMissing).toBeGreaterThan(100);
  },
);

test("a missing value that decides needs a policy, one beside a value in the region does not", () => {
  const limits = { a: [1, 2], b: [1, 2] };
  const of = (a: number, b: number) =>
    restrictToExamined(
      { measures: { a: [a], b: [b] }, condition: [1], examined: [1], limits },
      { a: 2, b: 2 },
    );
  expect(() => of(Number.NaN, 0)).toThrow(/requires undecidable.*missing a/);
  expect(of(Number.NaN, 2).n).toBe(1);
  // one eye of two is over the limit already
  const half = { a: [3], b: [0] };
  const measures = { a: [Number.NaN], b: [0] };
  const data = { measures, atLeast: half, condition: [1], examined: [1], limits };
  expect(restrictToExamined(data, { a: 2, b: 2 })).toMatchObject({ n: 1, atLeast: half });
});
