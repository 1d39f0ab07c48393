import type { PowerVector } from "../../refraction/index.js";
import { InputError } from "../../results/index.js";
import { type Ellipse, ellipseFrom } from "./ellipse.js";
import type { VectorRegion } from "./vectorRegions.js";

const order = ["M", "J0", "J45"] as const;

/** One of the three components of a power vector. */
export type Component = (typeof order)[number];

/**
 * The shadow of a region of (M, J0, J45) on the plane of two components. It holds more than the
 * region's level: that of a 95 % ellipsoid 98.0 % of eyes.
 *
 * Components are in dioptres.
 *
 * @param region one of the `regions` of a result of `vectorAgreement`
 * @param mean its `mean`
 * @param plane the components along x and y
 *
 * @example
 * regionShadow({ region: "plug-in", level: 0.95, method: "chi-square", covariance: [[4, 0, 0], [0, 1, 0], [0, 0, 1]], squaredRadius: 4 }, { M: 0, J0: 0, J45: 0 }, ["M", "J0"]).semiAxes // => [4, 2]
 */
export function regionShadow(
  { covariance, squaredRadius, region, level, method }: VectorRegion,
  mean: PowerVector,
  [across, up]: readonly [Component, Component],
): Ellipse {
  const whole = order.every((_, row) =>
    order.every((__, at) => Number.isFinite(covariance[row]?.[at])),
  );
  if (!whole || !(squaredRadius >= 0)) {
    throw new InputError(
      `regionShadow requires a covariance of M, J0 and J45 and a squaredRadius of 0 or more, got ${JSON.stringify({ covariance, squaredRadius })}; take a region of vectorAgreement`,
    );
  }
  const [i, j] = [order.indexOf(across), order.indexOf(up)];
  return ellipseFrom(
    { x: mean[across], y: mean[up] },
    { xx: covariance[i]![i]!, xy: covariance[i]![j]!, yy: covariance[j]![j]! },
    squaredRadius,
    { region, level, method },
  );
}
