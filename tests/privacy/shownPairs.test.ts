import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { differencePoints } from "../../src/privacy/differencePoints.js";
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
            expect([0.05, 0.0625]).toContain(shown.step);
            expect(Math.abs(value / shown.step - Math.round(value / shown.step))).toBeLessThan(
              1e-9,
            );
          }
        }
      }),
    );
  });

  it("leaves readings in quarters and eighths where they are, so that no mark crosses a limit", () => {
    const eighths = fc.array(
      fc.tuple(fc.integer({ min: -64, max: 64 }), fc.integer({ min: -64, max: 64 })),
      {
        minLength: 1,
        maxLength: 50,
      },
    );
    fc.assert(
      fc.property(eighths, (list) => {
        const [test, reference] = [
          list.map(([one]) => one / 8),
          list.map(([, other]) => other / 8),
        ];
        const shown = differencePoints({ test, reference }, { audience: "journal" });
        if (shown.kind !== "rounded-pairs") throw new Error("pairs expected");
        const drawn = shown.pairs.map(({ y }) => y).sort((a, b) => a - b);
        // + 0: a difference of minus nothing is none
        expect(drawn).toEqual(
          test.map((value, row) => value - reference[row]! + 0).sort((a, b) => a - b),
        );
      }),
    );
    // hundredths are rounded as ever
    const hundredths = differencePoints(
      { test: [1.01, 1], reference: [1, 1] },
      { audience: "journal" },
    );
    expect(hundredths).toMatchObject({ step: 0.05 });
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

  it("rounds a half away from zero, so that eyes and their mirror images make mirrored marks", () => {
    fc.assert(
      fc.property(rows, (list) => {
        const marks = (sign: 1 | -1) => {
          const { x, y } = columns(list);
          const turned = { x: Array.from(x, (v) => sign * v), y: Array.from(y, (v) => sign * v) };
          const shown = shownPairs(turned, { audience: "journal" });
          if (shown.kind !== "rounded-pairs") throw new Error("pairs expected");
          return shown.pairs.map((mark) => `${sign * mark.x || 0} ${sign * mark.y || 0}`).sort();
        };
        expect(marks(-1)).toEqual(marks(1));
      }),
    );
    const half = shownPairs({ x: [-0.575, 0.575], y: [0.175, -0.175] }, { audience: "journal" });
    if (half.kind !== "rounded-pairs") throw new Error("pairs expected");
    expect([...half.pairs].sort((a, b) => a.x - b.x)).toEqual([
      { x: -0.6, y: 0.2 },
      { x: 0.6, y: -0.2 },
    ]);
  });

  it("gives the public cells of at least 11 that hold every eye, their counts coarse", () => {
    fc.assert(
      fc.property(rows, (list) => {
        const shown = shownPairs(columns(list));
        if (shown.kind !== "coarse-pairs") throw new Error("cells expected");
        if (list.length < 11) {
          expect(shown.cells).toEqual([]);
          return;
        }
        let all = 0;
        for (const { x, x2, y, y2, n, open = [] } of shown.cells) {
          // by definition: the rows between the edges, beyond them on an open side
          const inside = list.filter(
            ([a, b]) =>
              (a >= x || open.includes("left")) &&
              (a < x2 || open.includes("right")) &&
              (b >= y || open.includes("below")) &&
              (b < y2 || open.includes("above")),
          );
          expect(inside.length).toBeGreaterThanOrEqual(11);
          expect(n).toBe(Math.max(15, 5 * Math.round(inside.length / 5)));
          all += inside.length;
        }
        expect(all).toBe(list.length);
      }),
    );
  });

  it("says nothing of how far the outermost eyes lie", () => {
    const middle = Array.from({ length: 60 }, (_, at) => at % 6);
    const near = shownPairs({ x: [...middle, 6], y: [...middle, 6] }, { cell: 1 });
    const far = shownPairs({ x: [...middle, 25], y: [...middle, 19] }, { cell: 1 });
    expect(far).toEqual(near);
  });

  it("refuses columns of two lengths and what is no number", () => {
    expect(() => shownPairs({ x: [1], y: [] })).toThrow("got 1 and 0");
    expect(() => shownPairs({ x: [Number.NaN], y: [1] })).toThrow("finite numbers");
  });
});
