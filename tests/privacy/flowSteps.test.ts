import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { FlowBox } from "../../src/cohort/types.js";
import { flowSteps } from "../../src/privacy/flowSteps.js";

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
        const drawn = flowSteps({ boxes }, "public");
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
