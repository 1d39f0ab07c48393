import { atLeastFollows, coarsen, type SmallCounts, totalOf } from "../../disclosure/index.js";
import type { CoarsePairs } from "../../privacy/index.js";

type Cell = CoarsePairs["cells"][number];
type Range = { readonly low: number; readonly high: number };

/** Differences of which a count is shown: which cells lie in it as a whole, which outside. */
export interface Region {
  readonly count: Range;
  /** All other differences. */
  readonly rest: Range;
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
 *
 * @param n all rows, which other tables may narrow: taken as known
 */
export function leavesOpen(
  cells: readonly Cell[],
  regions: readonly Region[],
  rule: SmallCounts,
  n: number,
): boolean {
  const counted = (name: string, list: readonly Cell[]) => {
    const { low, high } = totalOf(list.map(({ n }) => coarsen(n, rule)));
    return { name, low, high };
  };
  return regions.every(({ count, rest, holds }) => {
    const of = (how: ReturnType<Region["holds"]>) => cells.filter((cell) => holds(cell) === how);
    if (of("some").length === 0) return true;
    const found = atLeastFollows(
      [
        counted("all", of("all")),
        counted("none", of("none")),
        counted("cut", of("some")),
        { name: "count", low: count.low, high: count.high },
        { name: "rest", low: rest.low, high: rest.high },
        { name: "rows", low: n, high: n },
      ],
      [
        { whole: "count", parts: [{ name: "all" }, { name: "inside" }] },
        { whole: "rest", parts: [{ name: "none" }, { name: "outside" }] },
        { whole: "cut", parts: [{ name: "inside" }, { name: "outside" }] },
        { whole: "rows", parts: [{ name: "count" }, { name: "rest" }] },
        { whole: "rows", parts: [{ name: "all" }, { name: "none" }, { name: "cut" }] },
      ],
    );
    return ["inside", "outside"].every((name) => {
      const { low, high } = found.get(name)!;
      return low >= rule.fewerThan || (low <= 0 && high >= rule.fewerThan - 1);
    });
  });
}
