import {
  type CorrectedAccuracy,
  correctVerification,
  countVerification,
  type UndecidablePolicy,
  type VerificationCount,
} from "../../accuracy/index.js";
import type { Protocol } from "../../protocol/index.js";
import type { ConditionRows } from "./conditionRows.js";

/** Rows with the group within which each child was drawn for the exam; "" where there are none. */
export type GroupedRows = ConditionRows & { readonly groups: readonly string[] };

/** The examined and the unexamined, and accuracy corrected for who was examined. */
export interface Corrected {
  readonly count: VerificationCount;
  readonly corrected: CorrectedAccuracy;
}

/** Corrects within the groups in which children were drawn. */
export function correctedRows(
  rows: Pick<GroupedRows, "test" | "reference" | "reason" | "groups">,
  { level, seed }: Protocol,
  policy: UndecidablePolicy,
): Corrected {
  const counted = (columns: Pick<GroupedRows, "test" | "reference" | "reason">) =>
    countVerification(columns, { undecidable: policy });
  const counts = [...new Set(rows.groups)].map((group) =>
    counted(rowsWhere(rows, (row) => rows.groups[row] === group)),
  );
  const strata = counts.length > 0 ? counts : [counted(rows)];
  return {
    count: counted(rows),
    corrected: correctVerification(
      {
        verified: strata.map(({ verified }) => verified),
        unverified: strata.map(({ unverified }) => unverified),
      },
      { level, seed },
    ),
  };
}

/** Some of the rows. */
export function rowsWhere(
  rows: Pick<GroupedRows, "test" | "reference" | "reason"> & {
    readonly groups?: readonly string[];
  },
  keep: (row: number) => boolean,
) {
  const kept = Array.from(rows.test.keys()).filter(keep);
  const groups = rows.groups ?? [];
  return {
    test: kept.map((row) => rows.test[row]),
    reference: kept.map((row) => rows.reference[row]),
    reason: kept.map((row) => rows.reason[row]),
    groups: kept.map((row) => groups[row] ?? ""),
  };
}
