import { InputError, type TwoByTwo } from "../results/index.js";
import type { SubjectColumn } from "./columns.js";

/** Numbers each subject from 0 in order of appearance. */
export function subjectIndex(
  caller: string,
  subjects: SubjectColumn,
): { codes: Int32Array; count: number } {
  const known = new Map<string | number, number>();
  const codes = new Int32Array(subjects.length);
  for (let row = 0; row < subjects.length; row++) {
    const subject = subjects[row];
    if ((typeof subject !== "string" && typeof subject !== "number") || Number.isNaN(subject)) {
      throw new InputError(
        `${caller} requires a subject in each row, got ${subject} in row ${row}`,
      );
    }
    let code = known.get(subject);
    if (code === undefined) {
      code = known.size;
      known.set(subject, code);
    }
    codes[row] = code;
  }
  return { codes, count: known.size };
}

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
  subjects: { readonly codes: Int32Array; readonly count: number },
  cell: (row: number) => number,
): ChildTotals {
  const counts = new Float64Array(4 * subjects.count);
  const rows = new Int32Array(subjects.count);
  const total: [number, number, number, number] = [0, 0, 0, 0];
  let repeated = false;
  for (let row = 0; row < subjects.codes.length; row++) {
    const which = cell(row);
    if (which < 0) continue;
    const child = subjects.codes[row];
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
