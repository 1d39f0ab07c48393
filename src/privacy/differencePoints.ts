import { type ForAudience, shownTo } from "../results/index.js";
import { type PointOptions, type ShownPairs, shownPairs } from "./shownPairs.js";

/** Rows measured by both methods. */
export interface PairedColumns extends ForAudience {
  readonly test: ArrayLike<number>;
  readonly reference: ArrayLike<number>;
}

/**
 * What an audience may see of paired rows: the mean of both as x, the difference (test minus
 * reference) as y. For the public, counts in cells of at least 11 rows; for the audience "journal"
 * a pair a row, rounded to 0.05 (where all lie on sixteenths, as they are) and in shuffled order. More than
 * 4,000 rows are always counted in cells.
 *
 * @throws when the columns differ in length or hold what is not a number
 *
 * @example
 * differencePoints({ test: [1, 2.02], reference: [1, 1.5] }, { audience: "journal" }).pairs.length // => 2
 */
export function differencePoints(columns: PairedColumns, options: PointOptions = {}): ShownPairs {
  const { test, reference } = columns;
  return shownPairs(
    {
      x: Array.from(test, (value, row) => (value + reference[row]!) / 2),
      y: Array.from(test, (value, row) => value - reference[row]!),
    },
    { ...options, audience: shownTo(options.audience, columns) },
  );
}
