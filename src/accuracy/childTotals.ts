import type { TwoByTwo } from "../results/index.js";
import type { Clusters } from "../rows/index.js";

/** Counts of each child, child by child: true positive, false positive, false negative, true negative. */
export interface ChildTotals {
  readonly children: number;
  readonly counts: Float64Array;
  /** The four counts over all children, in the same order. */
  readonly total: readonly [number, number, number, number];
  readonly table: TwoByTwo;
  /** Whether any child has more than one row. */
  readonly repeated: boolean;
}

/** Adds up rows by child; `cell` gives 0 to 3 in the order above, or -1 for a row left out. */
export function childTotals(
  subjects: Pick<Clusters, "count" | "ofRow">,
  cell: (row: number) => number,
): ChildTotals {
  const counts = new Float64Array(4 * subjects.count);
  const rows = new Int32Array(subjects.count);
  const total: [number, number, number, number] = [0, 0, 0, 0];
  let repeated = false;
  for (let row = 0; row < subjects.ofRow.length; row++) {
    const which = cell(row);
    if (which < 0) continue;
    const child = subjects.ofRow[row];
    counts[4 * child + which]++;
    total[which]++;
    if (++rows[child] > 1) repeated = true;
  }
  return {
    children: rows.reduce((sum, n) => sum + (n > 0 ? 1 : 0), 0),
    counts,
    total,
    table: {
      truePositive: total[0],
      falsePositive: total[1],
      falseNegative: total[2],
      trueNegative: total[3],
    },
    repeated,
  };
}
