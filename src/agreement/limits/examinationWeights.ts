import { InputError } from "../../results/index.js";
import { clustersOf } from "../../rows/index.js";

/**
 * Inverse shares examined: every examined row weighs rows / examined rows of its stratum (bands of
 * the reading, by which examination was decided), an unexamined row 0.
 *
 * @throws when the columns differ in length or a stratum has no examined row
 *
 * @example
 * examinationWeights({ examined: [true, true, true, false], strata: ["a", "b", "b", "b"] }) // => [1, 1.5, 1.5, 0]
 */
export function examinationWeights(data: {
  readonly examined: ArrayLike<boolean>;
  readonly strata: ArrayLike<string | number>;
}): number[] {
  const { examined, strata } = data;
  const clusters = clustersOf("examinationWeights", strata, examined.length, "strata");
  const seen = new Float64Array(clusters.count);
  for (let row = 0; row < examined.length; row++) if (examined[row]) seen[clusters.ofRow[row]]++;
  const empty = seen.indexOf(0);
  if (empty >= 0) {
    const row = clusters.ofRow.indexOf(empty);
    throw new InputError(
      `examinationWeights requires an examined row in every stratum, got none in ${strata[row]}`,
    );
  }
  return Array.from(clusters.ofRow, (stratum, row) =>
    examined[row] ? clusters.sizes[stratum] / seen[stratum] : 0,
  );
}
