import { type Plotted, type PointOptions, plottedPoints } from "./points.js";

/** Rows measured by both methods. */
export interface PairedColumns {
  readonly test: ArrayLike<number>;
  readonly reference: ArrayLike<number>;
}

/**
 * What a figure may carry of paired rows: the mean of both as x, the difference (test minus
 * reference) as y. For the public, counts in cells of at least 11 rows; for the audience "journal"
 * a mark a row, rounded to 0.05 and in shuffled order. More than 4,000 rows are always counted in
 * cells.
 *
 * @throws when the columns differ in length or hold what is not a number
 *
 * @example
 * differencePoints({ test: [1, 2.02], reference: [1, 1.5] }, { audience: "journal" }).marks.length // => 2
 */
export function differencePoints(pairs: PairedColumns, options: PointOptions = {}): Plotted {
  const { test, reference } = pairs;
  return plottedPoints(
    {
      x: Array.from(test, (value, row) => (value + reference[row]!) / 2),
      y: Array.from(test, (value, row) => value - reference[row]!),
    },
    options,
  );
}

/** Points that are made already, or rows yet to be made into points. */
export function plottedDifferences(
  points: PairedColumns | Plotted | undefined,
  options: PointOptions,
): Plotted | undefined {
  if (points === undefined || !("test" in points)) return points;
  return differencePoints(points, options);
}
