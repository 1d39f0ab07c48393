import { shownTogether } from "./shownTogether.js";

/** The positive rows at one cut-off: those that have the condition and those that have not. */
interface Positives {
  readonly truePositive: number;
  readonly falsePositive: number;
}

/**
 * Which points of a curve the public may see together: those whose true and false positives differ by
 * 0 or at least 11 from each other and from none and all.
 *
 * @param points along the cut-off, up to all rows
 * @param first those that are asked before the others
 */
export function shownPoints<Point extends Positives>(
  points: readonly Point[],
  first: readonly Point[],
): readonly boolean[] {
  const countsOf = ({ truePositive, falsePositive }: Point) => [truePositive, falsePositive];
  return shownTogether(points.map(countsOf), countsOf(points.at(-1)!), {
    first: first.map((point) => points.indexOf(point)),
  });
}
