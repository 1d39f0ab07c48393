import { bestCandidate, candidatesOf } from "./candidates.js";
import { cellOfRows, countByValue } from "./countByValue.js";
import type { Score } from "./criterion.js";
import type { PositiveWhen } from "./direction.js";

/**
 * Prepares the gain of a cut-off of its own for each band over one for all: the mean over rows of
 * the criterion at the band's best cut-off minus that at the cut-off that is best on this mean.
 * A band without a class counts nothing.
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
    let own = 0;
    const shared = new Float64Array(candidates.through.length);
    for (const band of counts) {
      const best = bestCandidate(candidates, band, score);
      if (best === null) continue;
      const share = band.n / rows.length;
      own += share * best.score;
      addScores(shared, share, candidates.through, band, score);
    }
    return own - Math.max(...shared);
  };
}

/** Adds a band's score at each candidate. */
function addScores(
  shared: Float64Array,
  share: number,
  through: Int32Array,
  band: { readonly withCondition: Float64Array; readonly withoutCondition: Float64Array },
  score: Score,
): void {
  const total = (list: Float64Array) => list.reduce((sum, value) => sum + value, 0);
  const [totalWith, totalWithout] = [total(band.withCondition), total(band.withoutCondition)];
  let cell = 0;
  let truePositive = 0;
  let falsePositive = 0;
  through.forEach((end, at) => {
    for (; cell < end; cell++) {
      truePositive += band.withCondition[cell];
      falsePositive += band.withoutCondition[cell];
    }
    shared[at] += share * score(truePositive, falsePositive, totalWith, totalWithout);
  });
}
