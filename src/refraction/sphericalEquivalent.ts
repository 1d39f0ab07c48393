import { InputError } from "../results/index.js";
import { cylinderLimit, requirePowers, sphereLimit } from "./prescription.js";

/**
 * Spherical equivalent, M: sphere plus half the cylinder, in dioptres; needs no axis.
 *
 * One number for a lens that may have two: +1.00 -2.00 x 180 has an equivalent of 0.
 *
 * @throws when sphere or cylinder is not finite or out of range (40 D, 20 D)
 *
 * @example
 * sphericalEquivalent({ sphere: 4.5, cylinder: -1.25, axis: 7 }) // => 3.875
 */
export function sphericalEquivalent(prescription: {
  readonly sphere: number;
  readonly cylinder: number;
  readonly axis?: number | null;
}): number {
  requirePowers("sphericalEquivalent", prescription);
  return prescription.sphere + prescription.cylinder / 2;
}

/** The spherical equivalents of whole columns; NaN is missing, and stays so. */
export function sphericalEquivalents(columns: {
  readonly sphere: ArrayLike<number>;
  readonly cylinder: ArrayLike<number>;
}): Float64Array {
  const { sphere, cylinder } = columns;
  const M = new Float64Array(sphere.length);
  for (let row = 0; row < M.length; row++) {
    const [S, C] = [sphere[row], cylinder[row]];
    if (Math.abs(S) > sphereLimit || Math.abs(C) > cylinderLimit) {
      throw new InputError(
        `sphericalEquivalents requires spheres within ${sphereLimit} D and cylinders within ${cylinderLimit} D, got ${S} and ${C} at index ${row}`,
      );
    }
    M[row] = S + C / 2;
  }
  return M;
}
