import { chiSquareQuantile, fQuantile } from "../../inference/index.js";
import { type Ellipse, ellipseFrom } from "./ellipse.js";
import type { VectorMoments } from "./vectorColumns.js";

/** Three different curves in the plane of J0 (x) and J45 (y). */
export interface AstigmatismEllipses {
  /** Where the mean lies, with the stated confidence (Hotelling, over children). */
  readonly centroid: Ellipse;
  /** The stated share of eyes, if the estimates were the truth (chi-square, 2 df). */
  readonly eyes: Ellipse;
  /** One further eye, with the estimates' own error. */
  readonly nextEye: Ellipse;
}

/** Bivariate ellipses: the shadow of a three-dimensional region would hold more than it says. */
export function astigmatismEllipses(
  moments: VectorMoments,
  level: number,
  coverage: number,
): AstigmatismEllipses {
  const { mean, covariance, meanCovariance, units, method } = moments;
  const centre = { x: mean[1], y: mean[2] };
  const plane = (matrix: readonly (readonly number[])[]) => ({
    xx: matrix[1][1],
    xy: matrix[1][2],
    yy: matrix[2][2],
  });
  const hotelling = (p: number) => ((2 * (units - 1)) / (units - 2)) * fQuantile(p, 2, units - 2);
  const wider = covariance.map((row, i) => row.map((value, j) => value + meanCovariance[i][j]));
  return {
    centroid: ellipseFrom(centre, plane(meanCovariance), hotelling(level), {
      region: "confidence-of-mean",
      level,
      method,
    }),
    eyes: ellipseFrom(centre, plane(covariance), chiSquareQuantile(coverage, 2), {
      region: "plug-in",
      level: coverage,
      method: "chi-square",
    }),
    nextEye: ellipseFrom(centre, plane(wider), hotelling(coverage), {
      region: "prediction",
      level: coverage,
      method,
    }),
  };
}
