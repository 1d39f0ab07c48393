import { requireLevel } from "../../inference/index.js";
import type { PowerVector } from "../../refraction/index.js";
import type { ClusterColumns } from "../../rows/index.js";
import { type AstigmatismEllipses, astigmatismEllipses } from "./astigmatismEllipses.js";
import { type Eyes, vectorColumns, vectorMoments } from "./vectorColumns.js";

/** Centroid of astigmatism and its ellipses, in double-angle axes. */
export interface DoubleAngleSummary {
  readonly kind: "double-angle-summary";
  readonly n: number;
  readonly subjects: number;
  readonly level: number;
  readonly coverage: number;
  /** Whether J45 of left eyes was turned round here. */
  readonly mirrored: boolean;
  readonly mean: PowerVector;
  /** Covariance of one eye's M, J0, J45, in this order. */
  readonly covariance: readonly (readonly number[])[];
  readonly ellipses: AstigmatismEllipses;
}

/**
 * One set of refractions for a double-angle plot of astigmatism: mean vector, covariance, and the
 * ellipses of (J0, J45) that are often mixed up: of the centroid, of the stated share of eyes, and
 * of one further eye.
 *
 * Right and left eyes are mirror images: give `eyes` and left eyes are mirrored here; without it
 * the caller has done so or has one eye a child. Without `subjects` rows are independent.
 *
 * @param data vectors in dioptres
 * @throws when there are fewer than 5 rows or subjects, or a component is not finite
 *
 * @example
 * const vectors = [[0, 1, 0], [1, 0, 1], [0, -1, 0], [1, 0, -1], [0, 0.5, 0.5]].map(([M, J0, J45]) => ({ M, J0, J45 }));
 * doubleAngleSummary({ vectors }).mean // => { M: 0.4, J0: 0.1, J45: 0.1 }
 */
export function doubleAngleSummary(
  data: {
    readonly vectors: ArrayLike<PowerVector>;
    readonly eyes?: Eyes;
  } & ClusterColumns,
  options: { readonly level?: number; readonly coverage?: number } = {},
): DoubleAngleSummary {
  const caller = "doubleAngleSummary";
  const level = requireLevel(caller, options.level ?? 0.95);
  const coverage = requireLevel(caller, options.coverage ?? 0.95);
  const columns = vectorColumns(caller, data.vectors, data.eyes);
  const moments = vectorMoments(caller, columns, data);
  const [M, J0, J45] = moments.mean;
  return {
    kind: "double-angle-summary",
    n: moments.n,
    subjects: moments.clusters,
    level,
    coverage,
    mirrored: data.eyes !== undefined,
    mean: { M, J0, J45 },
    covariance: moments.covariance,
    ellipses: astigmatismEllipses(moments, level, coverage),
  };
}
