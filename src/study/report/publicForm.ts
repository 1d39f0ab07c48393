import { smallestCount, suppressSmallCells } from "../../privacy/index.js";
import type { TableModel } from "../../results/index.js";
import type { StudyResult } from "../run/studyResult.js";
import type { ReportBlock } from "./report.js";

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
