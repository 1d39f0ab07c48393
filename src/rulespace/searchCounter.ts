import type { CellCounts } from "../inference/index.js";
import { sum } from "../rows/index.js";
import { accumulate } from "./accumulate.js";
import { countGrid } from "./countGrid.js";
import type { GridCounts } from "./ruleGrid.js";
import type { SearchGrid } from "./searchRows.js";

/** Counts of all rules from counts per kind of row; the arrays are used again by the next call. */
export function searchCounter(grid: SearchGrid): (counts: CellCounts) => GridCounts {
  const { sizes, rules, whole, cells, openCells } = grid;
  const pair = () =>
    whole
      ? ([new Int32Array(rules), new Int32Array(rules)] as const)
      : ([new Float64Array(rules), new Float64Array(rules)] as const);
  const passed = pair();
  const open = openCells === null ? null : pair();
  const fill = (target: ReturnType<typeof pair>, at: Int32Array, counts: CellCounts) => {
    const totals = {
      totalWith: sum(counts.withCondition),
      totalWithout: sum(counts.withoutCondition),
    };
    const each = (add: (cell: number, ill: number, well: number) => void) => {
      for (let kind = 0; kind < at.length; kind++) {
        if (at[kind] >= 0) add(at[kind], counts.withCondition[kind], counts.withoutCondition[kind]);
      }
    };
    const [ill, well] = target;
    if (ill instanceof Int32Array && well instanceof Int32Array) {
      countGrid(ill, well, sizes, totals, each);
    } else {
      ill.fill(0);
      well.fill(0);
      each((cell, a, b) => {
        ill[cell] += a;
        well[cell] += b;
      });
      accumulate(ill, sizes);
      accumulate(well, sizes);
    }
    return totals;
  };
  return (counts) => {
    const { totalWith, totalWithout } = fill(passed, cells, counts);
    if (open !== null && openCells !== null) {
      fill(open, openCells, counts);
      open.forEach((list, side) => {
        for (let rule = 0; rule < rules; rule++) list[rule] -= passed[side][rule];
      });
    }
    return {
      sizes,
      rules,
      withCondition: { total: totalWith, passed: passed[0], undecidable: open?.[0] ?? null },
      withoutCondition: { total: totalWithout, passed: passed[1], undecidable: open?.[1] ?? null },
    };
  };
}
