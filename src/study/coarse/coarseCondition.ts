import { type CoarseCount, coarsen, type SmallCounts, totalOf } from "../../disclosure/index.js";
import type { ConditionCell } from "../run/studyCells.js";

/** A cell of a condition, its children made coarse. */
export interface CoarseCell extends Omit<ConditionCell, "children"> {
  readonly count: CoarseCount;
}

export const tableCells = [
  "truePositive",
  "falsePositive",
  "falseNegative",
  "trueNegative",
] as const;
export type TableCellName = (typeof tableCells)[number];

/** The four counts of a 2x2 table, made coarse. */
export type CoarseTable = { readonly [cell in TableCellName]: CoarseCount };

export function coarseCells(
  cells: readonly ConditionCell[],
  rule: SmallCounts,
): readonly CoarseCell[] {
  return cells.map(({ children, ...place }) => ({ ...place, count: coarsen(children, rule) }));
}

/** Where a cell stands in the 2x2 table; null for the unexamined. */
export function tableCellOf({
  studied,
  state,
}: Pick<ConditionCell, "studied" | "state">): TableCellName | null {
  if (state === "unexamined") return null;
  const has = state === "with" || state === "known-with";
  return studied === "refer"
    ? has
      ? "truePositive"
      : "falsePositive"
    : has
      ? "falseNegative"
      : "trueNegative";
}

/** Rows (eyes, or children) of some cells. */
export function rowsIn(cells: readonly CoarseCell[]): CoarseCount {
  return totalOf(
    cells.map(({ count }) => count),
    cells.map(({ eyes }) => eyes),
  );
}

export function coarseTable(cells: readonly CoarseCell[]): CoarseTable {
  const of = (name: TableCellName) => rowsIn(cells.filter((cell) => tableCellOf(cell) === name));
  return {
    truePositive: of("truePositive"),
    falsePositive: of("falsePositive"),
    falseNegative: of("falseNegative"),
    trueNegative: of("trueNegative"),
  };
}
