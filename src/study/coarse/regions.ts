import { type CoarseCount, coarsen, type SmallCounts, totalOf } from "../../disclosure/index.js";
import type { CoarsePairs } from "../../privacy/index.js";

type Cell = CoarsePairs["cells"][number];

/** Differences of which a count is shown: which cells lie in it as a whole, which outside. */
export interface Region {
  readonly count: CoarseCount;
  readonly holds: (cell: Cell) => "all" | "none" | "some";
}

/** Cells between two differences; a limit that is printed in hundredths is known within `about`. */
export function within(from: number, to: number, about = 0): Region["holds"] {
  return ({ y, y2, open = [] }) => {
    const low = open.includes("below") ? Number.NEGATIVE_INFINITY : y;
    const high = open.includes("above") ? Number.POSITIVE_INFINITY : y2;
    if (low >= from + about && high <= to - about) return "all";
    // a difference at the limit itself counts within
    return high <= from - about || low > to + about ? "none" : "some";
  };
}

/**
 * Whether a count leaves the rows of the cells that its limit cuts open: who knows the cells that lie in
 * it as a whole knows the others by difference, and these must not have the range of a small count in part.
 */
export function leavesOpen(
  cells: readonly Cell[],
  regions: readonly Region[],
  rule: SmallCounts,
): boolean {
  const counted = (list: readonly Cell[]) => totalOf(list.map(({ n }) => coarsen(n, rule)));
  const isOpen = (low: number, high: number) =>
    low >= rule.fewerThan || (low <= 0 && high >= rule.fewerThan - 1);
  return regions.every(({ count, holds }) => {
    const cut = cells.filter((cell) => holds(cell) === "some");
    if (cut.length === 0) return true;
    const inside = counted(cells.filter((cell) => holds(cell) === "all"));
    const all = counted(cut);
    const least = Math.max(0, count.low - inside.high);
    const most = Math.min(all.high, count.high - inside.low);
    return isOpen(least, most) && isOpen(Math.max(0, all.low - most), all.high - least);
  });
}
