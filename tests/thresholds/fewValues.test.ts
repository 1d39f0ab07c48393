import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { withoutNoise } from "../../src/rows/index.js";
import { cellOfRows, countByValue } from "../../src/thresholds/countByValue.js";
import { fewValues } from "../../src/thresholds/fewValues.js";

const steps = [0.25, 0.01, 1e-9, 1e300, Math.PI];
const values = fc
  .tuple(fc.constantFrom(...steps), fc.array(fc.integer({ min: -3000, max: 3000 })))
  .map(([step, list]) => list.map((k) => k * step));

describe("few distinct values", () => {
  it("each row finds its value, and no value twice", () => {
    fc.assert(
      fc.property(values, (list) => {
        const few = fewValues(list)!;
        expect(Array.from(few.placeOfRow, (place) => few.distinct[place])).toEqual(
          list.map(withoutNoise),
        );
        expect([...few.distinct]).toEqual([...new Set(list.map(withoutNoise))]);
      }),
      { numRuns: 200, seed: 1 },
    );
  });

  it("0 and -0 are one value", () => {
    expect([...fewValues([-0, 0, -0])!.distinct]).toEqual([0]);
  });

  it("up to 2,048 of them, and no more", () => {
    const list = Array.from({ length: 2049 }, (_, k) => k);
    expect(fewValues(list.slice(1))?.distinct.length).toBe(2048);
    expect(fewValues(list)).toBeNull();
  });
});

describe("counts by value, few and many", () => {
  // 2,100 distinct values that were left out make the same rows many: by look-up and by sorting
  it.each(["high", "low"] as const)(
    "look-up and sorting give the same counts: %s",
    (positiveWhen) => {
      const many = Array.from({ length: 2100 }, (_, k) => 5000 + k);
      fc.assert(
        fc.property(
          fc.array(fc.tuple(fc.integer({ min: -40, max: 40 }), fc.boolean()), { minLength: 1 }),
          (rows) => {
            const few = {
              values: rows.map(([k]) => k / 4),
              condition: rows.map(([, condition]) => condition),
            };
            const mixed = {
              values: [...few.values, ...many],
              condition: [...few.condition, ...many.map(() => true)],
            };
            const a = countByValue("test", few, positiveWhen);
            const b = countByValue("test", mixed, positiveWhen);
            const own = (list: Float64Array) =>
              positiveWhen === "high" ? list.slice(2100) : list.slice(0, -2100);
            expect(own(b.values)).toEqual(a.values);
            expect(own(b.withCondition)).toEqual(a.withCondition);
            expect(own(b.withoutCondition)).toEqual(a.withoutCondition);
            expect([a.totalWith, a.totalWithout]).toEqual([b.totalWith - 2100, b.totalWithout]);
            for (const [counts, { values: list }] of [
              [a, few],
              [b, mixed],
            ] as const) {
              expect(Array.from(cellOfRows(counts, list), (cell) => counts.values[cell])).toEqual(
                list,
              );
            }
          },
        ),
        { numRuns: 40, seed: 1 },
      );
    },
  );
});
