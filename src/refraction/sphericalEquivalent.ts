import { requirePowers } from "./prescription.js";

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
  return equivalentOf(prescription.sphere, prescription.cylinder);
}

/** Sphere plus half the cylinder of powers that were read; NaN where one of them is missing. */
export const equivalentOf = (sphere: number, cylinder: number): number => sphere + cylinder / 2;
