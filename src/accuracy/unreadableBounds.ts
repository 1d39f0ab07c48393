import type { TwoByTwo } from "../results/index.js";
import type { ConditionColumn, TestColumn } from "../rows/index.js";
import { type RateBounds, rateBounds } from "./rateBounds.js";
import { tableWith, threeByThree } from "./threeByThree.js";

/** The least and the greatest accuracy the unreadable children allow. */
export interface UnreadableBounds extends RateBounds {
  readonly kind: "unreadable-bounds";
  readonly n: number;
  readonly unreadable: { readonly withCondition: number; readonly withoutCondition: number };
  /** Unreadables with the condition counted negative, those without it positive. */
  readonly worst: TwoByTwo;
  /** The other way round. */
  readonly best: TwoByTwo;
}

/**
 * Worst and best case of unreadable children as a low and a high: in the worst case those with the
 * condition are counted negative and those without it positive; in the best case the other way
 * round. No single policy can do either. Bounds carry no sampling error.
 *
 * Rates are proportions, 0 to 1.
 *
 * @throws when lengths differ or a value is not one of its words
 *
 * @example
 * unreadableBounds({ test: [1, "undecidable", "undecidable", 0], reference: [1, 1, 0, 0] }).sensitivity // => { kind: "bounds", low: 0.5, high: 1 }
 */
export function unreadableBounds(columns: {
  readonly test: TestColumn;
  readonly reference: ConditionColumn;
}): UnreadableBounds {
  const counts = threeByThree("unreadableBounds", columns, "refused");
  const withCondition = counts.withCondition.undecidable;
  const withoutCondition = counts.withoutCondition.undecidable;
  const worst = tableWith(counts, {
    falseNegative: withCondition,
    falsePositive: withoutCondition,
  });
  const best = tableWith(counts, { truePositive: withCondition, trueNegative: withoutCondition });
  return {
    kind: "unreadable-bounds",
    n: columns.test.length,
    unreadable: { withCondition, withoutCondition },
    worst,
    best,
    ...rateBounds(worst, best),
  };
}
