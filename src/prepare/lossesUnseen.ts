import type { CodedTable } from "../cohort/index.js";
import type { FileChoices } from "./choices.js";
import type { Preparation } from "./preparation.js";
import { ownChoice } from "./saidOf.js";
import type { ColumnPlan } from "./write/columnPlan.js";

/** Rows and cells that would be lost, and of which nobody has said that they may. */
export function lossesUnseen(
  tables: readonly CodedTable[],
  plans: readonly (readonly ColumnPlan[])[],
  left: readonly (readonly number[])[],
  answers: readonly (FileChoices | undefined)[],
): Preparation["unseenLosses"] {
  return tables.flatMap(({ file }, at) => {
    const rowsLost = left[at].length;
    const ofRows =
      rowsLost > (answers[at]?.rowsLeftOut ?? 0) ? [{ file, column: null, loses: rowsLost }] : [];
    const ofColumns = plans[at].flatMap(({ detected: { column }, loses }) => {
      const own = ownChoice(answers[at]?.columns, column);
      // a drop without a count is a person's own: what is detected has one
      const seen = own?.loses ?? (own?.fate === "drop" ? Number.POSITIVE_INFINITY : 0);
      return loses > seen ? [{ file, column, loses }] : [];
    });
    return [...ofRows, ...ofColumns];
  });
}
