import fc from "fast-check";
import { expect, it } from "vitest";
import { participantFlow } from "../../src/cohort/link/flow.js";
import { eyeOutcomes } from "../../src/cohort/types.js";
import { countsForAudience } from "../../src/study/report/publicForm.js";
import { acceptableTable, agreementTable, flowTable } from "../../src/study/report/studyTables.js";
import type { StudyResult } from "../../src/study/run/studyResult.js";
import { partOf } from "../builders/partOf.js";

// Tables of the report for the public. The table of participants for the public, by definition: no count from 1 to 10, none as the difference
// of two boxes, and what is left out of a box adds up to the next one.
it("gives no small count, no small difference of two boxes, and adds up", () => {
  const few = fc.oneof(fc.constant(0), fc.integer({ min: 1, max: 10 }), fc.nat(150));
  const outcomes = fc.array(few, { minLength: eyeOutcomes.length, maxLength: eyeOutcomes.length });
  fc.assert(
    fc.property(outcomes, fc.nat(14), fc.boolean(), (children, fewer, shown) => {
      const right = Uint8Array.from(children.flatMap((n, code) => Array(n).fill(code)));
      fc.pre(right.length >= 11);
      // every ninth child with one known eye
      const left = right.map((code, child) => (child % 9 === 0 ? 255 : code));
      const flow = participantFlow({ right, left });
      const n = Math.max(0, children.at(-1)! - fewer);
      const result = partOf<StudyResult>({
        flow,
        protocol: { audience: "public", eye: "right", unit: "eye" },
        conditions: [{ rules: null, children: n, n, table: { truePositive: shown ? n : 5 } }],
      });
      const { rows } = countsForAudience(flowTable(result), result);
      for (const column of [1, 2]) {
        const numbers = rows.flatMap(({ cells }) => {
          const cell = cells[column];
          return typeof cell === "number" ? [{ label: String(cells[0]), cell }] : [];
        });
        const boxes = numbers.filter(({ label }) => !label.startsWith("left out"));
        // the table of counts tells how many were compared
        if (shown && !(n > 0 && n < 11)) boxes.push({ label: "Compared", cell: n });
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

// by hand: 95 % of 180 eyes leave 9 outside; 3 eyes have no axis
it("hides a share whose complement is small, and counts of eyes that differ by few", () => {
  const estimate = (value: number) =>
    ({ kind: "estimate", value, low: 0, high: 1, level: 0.95 }) as const;
  const limits = (n: number) => ({
    n,
    bias: estimate(0),
    sd: estimate(1),
    lower: estimate(-2),
    upper: estimate(2),
    notes: [],
    level: 0.95,
    coverage: 0.95,
    leads: "percentile" as const,
    percentile: { kind: "undefined" as const, reason: "not of interest here" },
  });
  const component = (quantity: "M" | "J0" | "J45", n: number, within: number) => ({
    quantity,
    mirrored: false,
    limits: { ...limits(n), multiplier: 1.96, interval: "exact" as const },
    weighted: null,
    withinAcceptable: estimate(within),
  });
  const resultFor = (audience: "public" | "journal") =>
    partOf<StudyResult>({
      protocol: { audience, verification: "complete", acceptableDifference: 0.5, eye: "right" },
      astigmatism: null,
      conditions: [],
      agreement: [
        component("M", 180, 171 / 180),
        component("J0", 177, 160 / 177),
        component("J45", 160, 149 / 160),
      ],
    });
  const cells = (audience: "public" | "journal", column: number, of: typeof acceptableTable) =>
    of(resultFor(audience)).rows.map((row) => {
      const cell = row.cells[column];
      return typeof cell === "object" ? cell?.kind : cell;
    });
  expect(cells("public", 1, acceptableTable)).toEqual([180, "suppressed", 160]);
  // percentiles, and bias ± SDs, of each component
  const twice = [180, 180, "suppressed", "suppressed", 160, 160];
  expect(cells("public", 1, agreementTable)).toEqual(twice);
  expect(cells("public", 2, acceptableTable)).toEqual(["suppressed", "estimate", "estimate"]);
  expect(cells("journal", 1, acceptableTable)).toEqual([180, 177, 160]);
  expect(cells("journal", 2, acceptableTable)).toEqual(["estimate", "estimate", "estimate"]);
});
