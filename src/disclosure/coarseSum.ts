import { coarsen } from "./coarseCount.js";
import { type SmallCounts, smallCounts } from "./smallCounts.js";
import type { Known } from "./whatFollows.js";

/** A range that a sum may read. */
export type SumRange = Pick<Known, "low" | "high">;

/**
 * The ranges that a sum of small counts may read: 0 to 10, 11 to 17, then by fives, the last one, from 43 on at the
 * latest, open at the top.
 * The first goes on to `least` and the last begins at `most` at the latest, so that each part can be 0, and as
 * great as a small count, in every one of them. They depend on nothing but what a reader knows.
 *
 * @param ends the least and the greatest that the sum can be, the least with some part at its greatest, and the
 *   most with some part at 0
 *
 * @example
 * sumRanges({ low: 0, high: 30, least: 10, most: 20 }).map(({ low, high }) => `${low} to ${high}`) // => ["0 to 10", "11 to 17", "18 to 30"]
 */
export function sumRanges(
  { low, high, least, most }: SumRange & { readonly least: number; readonly most: number },
  rule: SmallCounts = smallCounts,
): readonly SumRange[] {
  const ranges: SumRange[] = [];
  for (let from = low; from <= high; ) {
    const alike = coarsen(from, rule);
    const width = from === low ? Math.max(rule.fewerThan, least - low + 1) : rule.roundTo;
    const to = from > low && alike.low === from ? alike.high : from + width - 1;
    const isLast = to + 1 > Math.min(most, low + 4 * rule.fewerThan);
    ranges.push({ low: from, high: isLast ? high : to });
    from = isLast ? high + 1 : to + 1;
  }
  return ranges;
}

/**
 * The ends of a sum of `parts` small counts; beside another sum, those of both together.
 *
 * @param beside the range that the sum of `besideParts` others reads
 *
 * @example
 * sumEnds(3) // => { low: 0, high: 30, least: 10, most: 20 }
 */
export function sumEnds(
  parts: number,
  rule: SmallCounts = smallCounts,
  beside: SumRange | null = null,
  besideParts = 0,
): SumRange & { readonly least: number; readonly most: number } {
  const top = rule.fewerThan - 1;
  const { low, high } = beside ?? { low: 0, high: 0 };
  const ownAt0 = high + top * (parts - 1);
  const besideAt0 = top * (besideParts - 1 + parts);
  return {
    low,
    high: high + top * parts,
    least: low + top,
    most: beside === null ? ownAt0 : Math.min(ownAt0, besideAt0),
  };
}
