import fc from "fast-check";
import { expect, it } from "vitest";
import { participantFlow } from "../../src/cohort/flow.js";
import { eyeOutcomes } from "../../src/cohort/types.js";
import { countsForAudience } from "../../src/study/publicForm.js";
import type { StudyResult } from "../../src/study/studyResult.js";
import { flowTable } from "../../src/study/studyTables.js";

// The table of participants for the public, by definition: no count from 1 to 10, none as the difference
// of two boxes, and what is left out of a box adds up to the next one.
it("gives no small count, no small difference of two boxes, and adds up", () => {
  const few = fc.oneof(fc.constant(0), fc.integer({ min: 1, max: 10 }), fc.nat(150));
  const outcomes = fc.array(few, { minLength: eyeOutcomes.length, maxLength: eyeOutcomes.length });
  fc.assert(
    fc.property(outcomes, fc.nat(14), (children, fewer) => {
      const right = Uint8Array.from(children.flatMap((n, code) => Array(n).fill(code)));
      fc.pre(right.length >= 11);
      // every ninth child with one known eye
      const left = right.map((code, child) => (child % 9 === 0 ? 255 : code));
      const flow = participantFlow({ right, left });
      const n = Math.max(0, children.at(-1)! - fewer);
      const result = {
        flow,
        protocol: { audience: "public", eye: "right", unit: "eye" },
        conditions: [{ rules: null, children: n, n }],
      } as unknown as StudyResult;
      const { rows } = countsForAudience(flowTable(result), result);
      for (const column of [1, 2]) {
        const numbers = rows.flatMap(({ cells }) => {
          const cell = cells[column];
          return typeof cell === "number" ? [{ label: String(cells[0]), cell }] : [];
        });
        const boxes = numbers.filter(({ label }) => !label.startsWith("left out"));
        const told = [
          ...numbers.map(({ cell }) => cell),
          ...boxes.flatMap(({ cell }) => boxes.map((other) => Math.abs(cell - other.cell))),
        ];
        expect(told.filter((count) => count > 0 && count < 11)).toEqual([]);
        let left = numbers[0]!.cell;
        for (const { label, cell } of numbers.slice(1)) {
          if (label.startsWith("left out")) left -= cell;
          else if (!label.startsWith("Compared")) expect(left).toBe(cell);
        }
      }
    }),
    { numRuns: 500 },
  );
});
