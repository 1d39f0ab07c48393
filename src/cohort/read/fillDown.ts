import { InputError } from "../../results/index.js";
import type { ColumnMapping } from "../columnMapping.js";
import type { ProblemLog } from "../problemLog.js";

type Filled = NonNullable<ColumnMapping["fillDown"]>[number];

/**
 * Fills empty cells from the row above, where the mapping says so and both rows are of one subject; `next`
 * says which rows follow. Subjects themselves are filled where rows are kept.
 */
export function fillDown(keys: readonly Filled[]) {
  /** What the last row of each part held, and whose it was. */
  const last = new Map<object, { subject: number; values: Map<string, number> }>();
  let current = { subject: -1, values: new Map<string, number>() };
  let subjects: Int32Array = new Int32Array(0);
  let subjectBefore = -1;

  return {
    next(part: object, ofRows: Int32Array): void {
      if (keys.length === 0) return;
      current = last.get(part) ?? { subject: -1, values: new Map() };
      last.set(part, current);
      subjects = ofRows;
      subjectBefore = current.subject;
      if (ofRows.length > 0) current.subject = ofRows[ofRows.length - 1];
    },

    /** Fills a column in its place. */
    down(
      key: Filled,
      values: Float64Array | Int32Array,
      isEmpty: (value: number, row: number) => boolean,
      name: string = key,
    ): void {
      if (!keys.includes(key)) return;
      let subject = subjectBefore;
      let before = current.values.get(name);
      for (let k = 0; k < values.length; k++) {
        if (isEmpty(values[k], k) && subjects[k] === subject && before !== undefined) {
          values[k] = before;
        }
        subject = subjects[k];
        before = values[k];
      }
      if (before !== undefined) current.values.set(name, before);
    },

    /** A row that was rejected for its width may have held what the next one is filled from. */
    requireWhole({ file, problems }: ProblemLog): void {
      const row =
        keys.length === 0 ? undefined : problems.find(({ rule }) => rule === "ragged-row");
      if (row === undefined) return;
      throw new InputError(
        `fillDown requires rows of the header's width, got another one in line ${row.row} of ${file}; ` +
          "the rows under it would be filled from the wrong row: mend that line",
      );
    },
  };
}
