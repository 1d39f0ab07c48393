import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { shownPairs } from "../../src/privacy/shownPairs.js";

const rows = fc.array(
  fc.tuple(
    fc.double({ min: -9, max: 9, noNaN: true }),
    fc.double({ min: -4, max: 4, noNaN: true }),
  ),
  { minLength: 1, maxLength: 300 },
);
const columns = (list: readonly (readonly [number, number])[]) => ({
  x: list.map(([x]) => x),
  y: list.map(([, y]) => y),
});

describe("shownPairs", () => {
  it("carries two numbers an eye, rounded to 0.05, in an order that says nothing of the rows", () => {
    fc.assert(
      fc.property(rows, (list) => {
        const shown = shownPairs(columns(list), { audience: "journal" });
        const reversed = shownPairs(columns([...list].reverse()), { audience: "journal" });
        expect(reversed).toEqual(shown);
        if (shown.kind !== "rounded-pairs") throw new Error("pairs expected");
        expect(shown.pairs).toHaveLength(list.length);
        for (const mark of shown.pairs) {
          expect(Object.keys(mark)).toEqual(["x", "y"]);
          for (const value of [mark.x, mark.y]) {
            expect(Math.abs(value / 0.05 - Math.round(value / 0.05))).toBeLessThan(1e-9);
          }
        }
      }),
    );
  });

  it("rounds to the step that is asked for", () => {
    const columns = { x: [0.37, -0.38], y: [0.06, 2] };
    const shown = shownPairs(columns, { audience: "journal", step: 0.125, seed: 2 });
    if (shown.kind !== "rounded-pairs") throw new Error("pairs expected");
    expect([...shown.pairs].sort((a, b) => a.x - b.x)).toEqual([
      { x: -0.375, y: 2 },
      { x: 0.375, y: 0 },
    ]);
  });

  it("gives the public cells of at least 11, and leaves out none or at least 11", () => {
    fc.assert(
      fc.property(rows, (list) => {
        const shown = shownPairs(columns(list), { cell: 4 });
        if (shown.kind !== "counted-pairs") throw new Error("cells expected");
        for (const { x, x2, y, y2, n } of shown.cells) {
          expect(n).toBeGreaterThanOrEqual(11);
          // by definition: the rows between the edges
          const inside = list.filter(([a, b]) => a >= x && a < x2 && b >= y && b < y2);
          expect(inside).toHaveLength(n);
        }
        const few = shown.notShown > 0 && shown.notShown < 11;
        expect(few && shown.cells.length > 0).toBe(false);
      }),
    );
  });

  it("refuses columns of two lengths and what is no number", () => {
    expect(() => shownPairs({ x: [1], y: [] })).toThrow("got 1 and 0");
    expect(() => shownPairs({ x: [Number.NaN], y: [1] })).toThrow("finite numbers");
  });
});
