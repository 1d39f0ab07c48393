import type { PositiveWhen } from "../rows/index.js";
import { bestCandidate, candidatesOf } from "./candidates.js";
import { cellOfRows, countByValue } from "./countByValue.js";
import type { Score } from "./criterion.js";

/**
 * Prepares the gain of a cut-off of its own for each band over one for all: the mean over rows of
 * the criterion at the band's best cut-off minus that at the cut-off that is best on all rows, which
 * is the one that is printed. Infinite where that cut-off breaks the criterion's constraint within a
 * band. A band without a class, or without a choice of its own, counts nothing.
 */
export function commonAgainstOwn(
  caller: string,
  values: ArrayLike<number>,
  codes: Uint8Array,
  rows: readonly number[],
  options: {
    readonly positiveWhen: PositiveWhen;
    readonly cutOffs?: ArrayLike<number>;
    readonly score: Score;
    readonly bands: number;
  },
): (bandOfRow: Int32Array) => number {
  const { score, bands } = options;
  const taken = Float64Array.from(rows, (row) => values[row]);
  const condition = Uint8Array.from(rows, (row) => codes[row]);
  const distinct = countByValue(caller, { values: taken, condition }, options.positiveWhen);
  const cells = cellOfRows(distinct, taken);
  const candidates = candidatesOf(caller, distinct, options.cutOffs);
  const size = distinct.values.length;
  const through = candidates.through[bestCandidate(candidates, distinct, score)?.candidate ?? 0];
  return (bandOfRow) => {
    const counts = Array.from({ length: bands }, () => ({
      withCondition: new Float64Array(size),
      withoutCondition: new Float64Array(size),
      n: 0,
    }));
    rows.forEach((row, at) => {
      const band = counts[bandOfRow[row]];
      (condition[at] === 1 ? band.withCondition : band.withoutCondition)[cells[at]]++;
      band.n++;
    });
    let gain = 0;
    for (const band of counts) {
      const best = bestCandidate(candidates, band, score);
      if (best === null) continue;
      gain += (band.n / rows.length) * (best.score - scoreThrough(through, band, score));
    }
    return gain;
  };
}

/** A band's score where the first so many cells are referred. */
function scoreThrough(
  through: number,
  band: { readonly withCondition: Float64Array; readonly withoutCondition: Float64Array },
  score: Score,
): number {
  const [withCondition, withoutCondition] = [band.withCondition, band.withoutCondition];
  const sum = (list: Float64Array) => list.reduce((total, value) => total + value, 0);
  return score(
    sum(withCondition.subarray(0, through)),
    sum(withoutCondition.subarray(0, through)),
    sum(withCondition),
    sum(withoutCondition),
  );
}
