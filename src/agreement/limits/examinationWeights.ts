import { type ExaminationColumns, examinedRows } from "../../rows/index.js";

/**
 * Inverse shares examined: every examined row weighs rows / examined rows of its stratum (bands of
 * the reading, by which examination was decided), an unexamined row 0.
 *
 * @throws when the columns differ in length or a stratum has no examined row
 *
 * @example
 * examinationWeights({ examined: [true, true, true, false], strata: ["a", "b", "b", "b"] }) // => [1, 1.5, 1.5, 0]
 */
export function examinationWeights(data: ExaminationColumns): number[] {
  return Array.from(examinedRows("examinationWeights", data, data.examined.length).weights);
}
