import { type CoarseCount, coarsen, type SmallCounts, totalOf } from "../../disclosure/index.js";
import type { Protocol } from "../../protocol/index.js";
import type { ConditionResult } from "../run/studyResult.js";
import type { CoarseCell } from "./coarseCondition.js";

/** Children by how far they came; every total is a sum of coarse cells. */
export interface CoarseFlow {
  readonly all: CoarseCount;
  readonly before: CoarseCount;
  /** Null where the unexamined are among the rows. */
  readonly unexamined: CoarseCount | null;
  readonly undecided: CoarseCount;
  /** Children in the rows of the first condition. */
  readonly compared: CoarseCount;
}

export function coarseFlow(
  first: ConditionResult,
  cells: readonly CoarseCell[],
  { verification }: Pick<Protocol, "verification">,
  rule: SmallCounts,
): CoarseFlow {
  const { apart, children } = first.cells;
  const before = coarsen(apart.before, rule);
  const unexamined = verification === "complete" ? coarsen(apart.unexamined, rule) : null;
  // with the unexamined among the rows nobody else is unexamined but those left out by the policy
  const undecided = coarsen(
    apart.undecided + (verification === "complete" ? 0 : apart.unexamined),
    rule,
  );
  const compared = cells.some(({ eyes }) => eyes === 2)
    ? coarsen(children, rule)
    : totalOf(cells.map(({ count }) => count));
  const all = totalOf([before, ...(unexamined ? [unexamined] : []), undecided, compared]);
  return { all, before, unexamined, undecided, compared };
}
