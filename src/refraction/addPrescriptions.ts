import { InputError } from "../results/index.js";
import type { CylinderSign, Prescription } from "./prescription.js";
import { toPowerVector } from "./toPowerVector.js";
import { toPrescription } from "./toPrescription.js";

/**
 * Thin lenses in contact as one: crossed cylinders, or a worn correction plus the over-refraction.
 * Power vectors are added, never spheres, cylinders and axes. Lenses apart need `atVertex` first.
 *
 * Sphere and cylinder are in dioptres, axes in degrees.
 *
 * @param prescriptions at least one, in either cylinder sign, at one plane
 * @param options `cylinder`: form of the sum, "minus" (default) or "plus"
 * @throws when there is no lens, or one is out of range or lacks an axis
 *
 * Source: Thibos, Wheeler and Horner 1997.
 *
 * @example
 * addPrescriptions([{ sphere: 1.75, cylinder: 0.5, axis: 45 }, { sphere: -2.25, cylinder: -1, axis: 135 }]) // => { sphere: 0, cylinder: -1.5, axis: 135 }
 */
export function addPrescriptions(
  prescriptions: readonly Prescription[],
  options: { readonly cylinder?: CylinderSign } = {},
): Prescription {
  if (prescriptions.length === 0) {
    throw new InputError("addPrescriptions requires at least 1 prescription, got 0");
  }
  const sum = { M: 0, J0: 0, J45: 0 };
  for (const { M, J0, J45 } of prescriptions.map(toPowerVector)) {
    sum.M += M;
    sum.J0 += J0;
    sum.J45 += J45;
  }
  return toPrescription(sum, options);
}
