import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { FlowBox } from "../../src/cohort/types.js";
import { flowSteps } from "../../src/figures/marks/flowSteps.js";
import { plottedPoints } from "../../src/figures/marks/points.js";

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

describe("plottedPoints", () => {
  it("carries two numbers an eye, rounded to 0.05, in an order that says nothing of the rows", () => {
    fc.assert(
      fc.property(rows, (list) => {
        const plotted = plottedPoints(columns(list), { audience: "journal" });
        const reversed = plottedPoints(columns([...list].reverse()), { audience: "journal" });
        expect(reversed).toEqual(plotted);
        if (plotted.kind !== "marks") throw new Error("marks expected");
        expect(plotted.marks).toHaveLength(list.length);
        for (const mark of plotted.marks) {
          expect(Object.keys(mark)).toEqual(["x", "y"]);
          for (const value of [mark.x, mark.y]) {
            expect(Math.abs(value / 0.05 - Math.round(value / 0.05))).toBeLessThan(1e-9);
          }
        }
      }),
    );
  });

  it("gives the public cells of at least 11, and leaves out none or at least 11", () => {
    fc.assert(
      fc.property(rows, (list) => {
        const plotted = plottedPoints(columns(list), { cell: 4 });
        if (plotted.kind !== "cells") throw new Error("cells expected");
        for (const { x, x2, y, y2, n } of plotted.cells) {
          expect(n).toBeGreaterThanOrEqual(11);
          // by definition: the rows between the edges
          const inside = list.filter(([a, b]) => a >= x && a < x2 && b >= y && b < y2);
          expect(inside).toHaveLength(n);
        }
        const few = plotted.notDrawn > 0 && plotted.notDrawn < 11;
        expect(few && plotted.cells.length > 0).toBe(false);
      }),
    );
  });

  it("refuses columns of two lengths and what is no number", () => {
    expect(() => plottedPoints({ x: [1], y: [] })).toThrow("got 1 and 0");
    expect(() => plottedPoints({ x: [Number.NaN], y: [1] })).toThrow("finite numbers");
  });
});

describe("flowSteps for the public", () => {
  const box = (part: Partial<FlowBox> & Pick<FlowBox, "id" | "children">): FlowBox => ({
    label: part.id,
    eyes: 2 * part.children,
    partOf: null,
    role: "total",
    ...part,
  });

  it("adds up, shows nobody fewer than 11, and no two boxes that differ by fewer", () => {
    const losses = fc.array(fc.nat(40), { minLength: 3, maxLength: 3 });
    fc.assert(
      fc.property(fc.array(losses, { minLength: 1, maxLength: 4 }), (steps) => {
        // of 150 children some steps leave fewer than 11
        const all = steps[0]![0]! % 2 === 0 ? 1000 : 150;
        let left = all;
        const boxes = [box({ id: "all", children: left })];
        let parent = "all";
        for (const [at, reasons] of steps.entries()) {
          for (const [reason, children] of reasons.entries()) {
            const id = `out ${at} ${reason}`;
            const out = Math.min(children, left);
            boxes.push(box({ id, children: out, partOf: parent, role: "excluded" }));
            left -= out;
          }
          boxes.push(box({ id: `kept ${at}`, children: left, partOf: parent, role: "kept" }));
          parent = `kept ${at}`;
        }
        const drawn = flowSteps({ kind: "flow", boxes }, "public");
        const out = drawn.map(({ excluded }) =>
          excluded.reduce((sum, one) => sum + one.children, 0),
        );
        for (const [at, { children }] of drawn.entries()) {
          const next = drawn[at + 1];
          if (next !== undefined) expect(children - out[at]!).toBe(next.children);
        }
        const enough = (count: number) => count === 0 || count >= 11;
        const seen = [...drawn, ...drawn.flatMap(({ excluded }) => excluded)];
        expect(seen.filter((one) => !enough(one.children))).toEqual([]);
        for (const one of drawn) {
          for (const other of drawn) {
            expect(enough(Math.abs(one.children - other.children))).toBe(true);
          }
        }
        if (enough(left) && enough(all - left)) expect(drawn.at(-1)!.children).toBe(left);
        else expect(drawn.at(-1)!.children).not.toBe(left);
      }),
      { numRuns: 500 },
    );
  });
});
