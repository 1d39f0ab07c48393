/** An ellipse in the plane of two components, ready to be drawn. */
export interface Ellipse {
  readonly kind: "ellipse";
  /** What it holds, by its proper name. */
  readonly region: RegionName;
  /** Confidence or share that it stands for. */
  readonly level: number;
  readonly method: string;
  readonly centre: { readonly x: number; readonly y: number };
  /** Semi-axes in the units of the components, the longer first. */
  readonly semiAxes: readonly [number, number];
  /** Angle of the longer axis from the x axis, degrees in (-90, 90]. */
  readonly angle: number;
}

/**
 * The regions that are often mixed up: where the mean lies; where the stated share of
 * eyes lies if the estimates were the truth; where one further eye will lie; what holds the stated
 * share with the stated confidence.
 */
export type RegionName = "confidence-of-mean" | "plug-in" | "prediction" | "tolerance";

/** The curve (v - centre)' S^-1 (v - centre) = squaredRadius. */
export function ellipseFrom(
  centre: { readonly x: number; readonly y: number },
  covariance: { readonly xx: number; readonly xy: number; readonly yy: number },
  squaredRadius: number,
  named: { readonly region: RegionName; readonly level: number; readonly method: string },
): Ellipse {
  const { xx, xy, yy } = covariance;
  const half = (xx + yy) / 2;
  const spread = Math.hypot((xx - yy) / 2, xy);
  const degrees = spread === 0 ? 0 : (Math.atan2(2 * xy, xx - yy) * 90) / Math.PI;
  const axis = (eigenvalue: number) => Math.sqrt(Math.max(0, eigenvalue) * squaredRadius);
  return {
    kind: "ellipse",
    ...named,
    centre,
    semiAxes: [axis(half + spread), axis(half - spread)],
    angle: degrees,
  };
}
