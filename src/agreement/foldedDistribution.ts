import { InputError } from "../results/index.js";
import { onGrid, requirePairs, withoutNoise } from "../rows/index.js";
import type { PairedMeasurements } from "./limits/pairedMeasurements.js";

/** The share of differences at or beyond one, from the nearer end. */
export interface FoldedPoint {
  readonly difference: number;
  /** Per cent, 0 to 50. */
  readonly percent: number;
}

/** The cumulative distribution of differences, folded above the median. */
export interface FoldedDistribution {
  readonly kind: "folded-distribution";
  readonly n: number;
  readonly direction: "test-minus-reference";
  readonly step: number;
  /** The least number of rows between two points, and beyond the outermost. */
  readonly rowsApart: number;
  readonly points: readonly FoldedPoint[];
}

/**
 * The cumulative distribution of test minus reference, folded down above the median (Krouwer and
 * Monti 1995), at multiples of a step: per cent of rows at or below a difference, or above it where
 * that is less.
 *
 * Test and reference are in one unit, dioptres as a rule, and so are the results.
 *
 * @param data test and reference, one row an eye
 * @param options `step` 0.125 by default; `rowsApart`: a point is given where at least so many rows
 *   lie since the last one and beyond it, 1 by default (11 for the public)
 * @throws when the columns differ in length or are empty, a value is not finite, or an option is not
 *   positive
 *
 * @example
 * foldedDistribution({ test: [0, 1, 2, 3], reference: [0, 0, 0, 0] }, { step: 1 }).points.map(({ percent }) => percent) // => [25, 50, 25, 0]
 */
export function foldedDistribution(
  data: Pick<PairedMeasurements, "test" | "reference">,
  options: { readonly step?: number; readonly rowsApart?: number } = {},
): FoldedDistribution {
  const caller = "foldedDistribution";
  const { test, reference } = data;
  const { step = 0.125, rowsApart = 1 } = options;
  const n = requirePairs(caller, { test, reference }, 1);
  if (!(step > 0 && rowsApart >= 1)) {
    throw new InputError(
      `${caller} requires a positive step and at least 1 row apart, got ${step} and ${rowsApart}`,
    );
  }
  const sorted = Float64Array.from({ length: n }, (_, row) =>
    onGrid(test[row]! - reference[row]!),
  ).sort();
  const placeOf = (difference: number) => Math.ceil(withoutNoise(difference / step));
  const points: FoldedPoint[] = [];
  let last = 0;
  for (let below = 1; below <= n; below++) {
    // the step at or above this row holds every row up to the next step
    const place = placeOf(sorted[below - 1]!);
    if (below < n && placeOf(sorted[below]!) === place) continue;
    const beyond = n - below;
    const isFar = below - last >= rowsApart && (beyond >= rowsApart || rowsApart === 1);
    if (!isFar) continue;
    points.push({
      difference: withoutNoise(place * step),
      percent: (100 * Math.min(below, beyond)) / n,
    });
    last = below;
  }
  return {
    kind: "folded-distribution",
    n,
    direction: "test-minus-reference",
    step,
    rowsApart,
    points,
  };
}
