import { isSmallCount, smallestCount, suppressSmallCells } from "../../privacy/index.js";
import type { TableModel, TwoByTwo } from "../../results/index.js";
import type { ReportBlock } from "../report/report.js";
import type { StudyResult } from "./studyResult.js";

/** Is the count one that a public report does not show? */
export const isSmall = (count: number): boolean => isSmallCount(count);

/** Whether a rate of this table would give a small count back. */
export function hasSmallCell(table: TwoByTwo): boolean {
  return Object.values(table).some(isSmall);
}

/** A table of counts as the audience may see it. */
export function countsForAudience(
  table: TableModel,
  { protocol }: Pick<StudyResult, "protocol">,
  totals: { readonly totalRow?: number; readonly totalColumn?: number } = {},
): TableModel {
  return protocol.audience === "public" ? suppressSmallCells(table, totals) : table;
}

/** Stands where a public report shows nothing because a count is small. */
export function withheld(what: string): ReportBlock {
  return {
    kind: "paragraph",
    text: `${what}: not shown in a public report, because a count behind it is below ${smallestCount} and the rates would give it back.`,
  };
}
