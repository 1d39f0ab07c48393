import { expect, it } from "vitest";
import { smallCounts } from "../../src/disclosure/index.js";
import { coarseCells } from "../../src/study/coarse/coarseCondition.js";
import { coarseStudy } from "../../src/study/coarse/coarseStudy.js";
import { isSafeTogether, joined, noLedger } from "../../src/study/coarse/ledger.js";
import { cellsLedger } from "../../src/study/coarse/ledgers.js";
import { nestedLedger } from "../../src/study/coarse/nestedLedgers.js";
import { coarseResult, type InventedChild } from "../builders/coarseResult.js";

// 42 found and 43 found read 40 and 45: who has both reports knows that a lower limit found at least one child
// more. 42 and 43 are by hand the ends of what reads 40 (38 to 42) and 45 (43 to 47).
const times = (many: number, exam: number, value: number): InventedChild[] =>
  Array.from({ length: many }, () => ({ end: "compared", exam, value, band: 0, site: "site" }));
const children = [
  ...times(42, 3, 3),
  ...times(1, 3, 1.75),
  ...times(20, 3, 0),
  ...times(40, 0, 3),
  ...times(300, 0, 0),
];
const limits = [
  { refer: 2, target: 2 },
  { refer: 1.5, target: 2 },
] as const;

it("two reports of the same children by two limits can disclose; one with both withholds the second", () => {
  for (const one of limits) {
    const alone = coarseStudy(coarseResult(children, [one]));
    expect(alone.conditions[0]!.counts!.table.truePositive.words).toBe(
      one === limits[0] ? "40" : "45",
    );
  }
  const { conditions, protocol } = coarseResult(children, limits);
  const [first, second] = conditions.map((condition) => ({
    condition,
    cells: coarseCells(condition.cells.cells, smallCounts),
  }));
  const same = { whole: "c0 rows", parts: [{ name: "c1 rows" }] };
  const both = joined(
    cellsLedger(first!),
    cellsLedger(second!),
    { ...noLedger, equations: [same] },
    nestedLedger(second!, [first!], protocol, smallCounts),
  );
  expect(isSafeTogether(both, 11)).toBe(false);
  expect(isSafeTogether(joined(cellsLedger(first!), cellsLedger(second!)), 11)).toBe(true);
  const together = coarseStudy(coarseResult(children, limits));
  expect(together.conditions.map(({ counts }) => counts === null)).toEqual([false, true]);
});
