import { InputError } from "../results/index.js";
import { type Clusters, clustersOf } from "./clusters.js";
import { requireLength } from "./columns.js";
import { type YesNoColumn, yesNoCodes } from "./yesNo.js";

/** Who was examined, and within which strata a random share of them was. */
export interface ExaminationColumns {
  /** true or 1 for examined rows. */
  readonly examined: YesNoColumn;
  /** Stratum of each row, such as its screening result; examination is random within one. */
  readonly strata: ArrayLike<string | number>;
}

/** Both columns checked. */
export interface Examined {
  /** 1 for examined rows, 0 for the others. */
  readonly examined: Uint8Array;
  readonly strata: Clusters;
  /** rows / examined rows of the stratum in examined rows; 0 in the others. */
  readonly weights: Float64Array;
}

/**
 * Who was examined, and how many rows of its stratum each examined row stands for.
 *
 * @param cure what to do where nobody was examined in a stratum
 * @throws when a column is not as long as `rows`, an entry is faulty, or a stratum has no examined row
 */
export function examinedRows(
  caller: string,
  { examined, strata }: ExaminationColumns,
  rows: number,
  cure = "join it to another stratum",
): Examined {
  requireLength(caller, "examined", examined, rows);
  const codes = yesNoCodes(caller, "examined", examined);
  const clusters = clustersOf(caller, strata, rows, "strata");
  const seen = new Float64Array(clusters.count);
  for (let row = 0; row < rows; row++) seen[clusters.ofRow[row]] += codes[row];
  const empty = seen.indexOf(0);
  if (empty >= 0) {
    const stratum = strata[clusters.ofRow.indexOf(empty)];
    throw new InputError(
      `${caller} requires an examined row in every stratum, got none in ${stratum}; ${cure}`,
    );
  }
  const weights = Float64Array.from(
    clusters.ofRow,
    (stratum, row) => (codes[row] * clusters.sizes[stratum]) / seen[stratum],
  );
  return { examined: codes, strata: clusters, weights };
}
