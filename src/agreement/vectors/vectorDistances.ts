import { quantileSorted } from "simple-statistics";
import type { Estimate } from "../../results/index.js";
import { clustersOf } from "../../rows/index.js";
import { clusteredShare } from "../clusteredShare.js";

/** How long the difference vectors are: the strength of the lens that lies between both findings. */
export interface VectorDistances {
  readonly median: number;
  readonly ninetyFifth: number;
  /** Share of eyes whose difference is at most so long. */
  readonly within: readonly { readonly acceptable: number; readonly share: Estimate }[];
}

/** Distribution of |test - reference| as vectors, dioptres. */
export function vectorDistances(
  differences: readonly Float64Array[],
  subjects: ArrayLike<string | number> | undefined,
  acceptable: readonly number[],
  level: number,
): VectorDistances {
  const n = differences[0].length;
  const lengths = Float64Array.from({ length: n }, (_, row) =>
    Math.hypot(...differences.map((column) => column[row])),
  );
  const sorted = Array.from(lengths.slice().sort());
  const clusters = clustersOf("vectorAgreement", subjects, n);
  return {
    median: quantileSorted(sorted, 0.5),
    ninetyFifth: quantileSorted(sorted, 0.95),
    within: acceptable.map((limit) => ({
      acceptable: limit,
      share: clusteredShare((row) => lengths[row] <= limit + 1e-12, clusters, level),
    })),
  };
}
