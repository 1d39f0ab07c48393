import { quantileSorted } from "simple-statistics";
import type { Estimate, Undefined } from "../../results/index.js";
import { type ClusterColumns, meets } from "../../rows/index.js";
import { shareOfRows } from "../shareOfRows.js";

/** How long the difference vectors are: the strength of the lens that lies between both findings. */
export interface VectorDistances {
  readonly median: number;
  readonly ninetyFifth: number;
  /** Share of eyes whose difference is at most so long. */
  readonly within: readonly { readonly acceptable: number; readonly share: Estimate | Undefined }[];
}

/** Distribution of |test - reference| as vectors, dioptres. */
export function vectorDistances(
  differences: readonly Float64Array[],
  whose: ClusterColumns,
  acceptable: readonly number[],
  level: number,
): VectorDistances {
  const n = differences[0].length;
  const lengths = Float64Array.from({ length: n }, (_, row) =>
    Math.hypot(...differences.map((column) => column[row])),
  );
  const sorted = Array.from(lengths.slice().sort());
  const share = shareOfRows("vectorAgreement", whose, n, level);
  return {
    median: quantileSorted(sorted, 0.5),
    ninetyFifth: quantileSorted(sorted, 0.95),
    within: acceptable.map((limit) => ({
      acceptable: limit,
      share: share((row) => meets(lengths[row], { relation: "<=", limit })),
    })),
  };
}
