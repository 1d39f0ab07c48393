import { chiSquareQuantile, fQuantile } from "../../inference/index.js";
import type { RegionName } from "./ellipse.js";
import { toleranceSquaredRadius } from "./toleranceSquaredRadius.js";
import type { VectorMoments } from "./vectorColumns.js";

/**
 * A region of (M, J0, J45): v lies in it when (v - mean)' covariance^-1 (v - mean) is at most the
 * squared radius. Its shadow on a plane or an axis holds more than its level: a 95 % ellipsoid's
 * shadow 98.0 % and 99.5 %.
 */
export interface VectorRegion {
  readonly region: RegionName;
  readonly level: number;
  /** Confidence, of a tolerance region. */
  readonly confidence?: number;
  readonly method: string;
  readonly covariance: readonly (readonly number[])[];
  readonly squaredRadius: number;
  /** Standard error of a simulated squared radius: it moves so much with the seed. */
  readonly monteCarloError?: number;
}

/** The regions by their names; the tolerance region where replicates are asked for. */
export function vectorRegions(
  moments: VectorMoments,
  level: number,
  coverage: number,
  tolerance: { readonly replicates: number; readonly seed: number } | undefined,
): VectorRegion[] {
  const { units, method, covariance, meanCovariance } = moments;
  const p = covariance.length;
  const hotelling = (share: number) =>
    ((p * (units - 1)) / (units - p)) * fQuantile(share, p, units - p);
  const regions: VectorRegion[] = [
    {
      region: "confidence-of-mean",
      level,
      method,
      covariance: meanCovariance,
      squaredRadius: hotelling(level),
    },
    {
      region: "plug-in",
      level: coverage,
      method: "chi-square",
      covariance,
      squaredRadius: chiSquareQuantile(coverage, p),
    },
    {
      region: "prediction",
      level: coverage,
      method,
      covariance: covariance.map((row, i) => row.map((value, j) => value + meanCovariance[i][j])),
      squaredRadius: hotelling(coverage),
    },
  ];
  if (tolerance) {
    regions.push({
      region: "tolerance",
      level: coverage,
      confidence: level,
      method: "simulation",
      covariance,
      ...toleranceSquaredRadius(
        { n: units, dimensions: p, content: coverage, confidence: level },
        tolerance,
      ),
    });
  }
  return regions;
}
