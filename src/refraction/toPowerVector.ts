import { cosineOfTwice, sineOfTwice } from "./doubledAngle.js";
import type { PowerVector } from "./powerVector.js";
import { type Prescription, requirePrescription } from "./prescription.js";

/**
 * The power vector of a prescription: `M = S + C/2`, `J0 = -(C/2) cos 2A`, `J45 = -(C/2) sin 2A`.
 *
 * Both cylinder signs of one lens, and axes 0 and 180, give one vector. Source: Thibos, Wheeler and
 * Horner 1997.
 *
 * @param prescription sphere and cylinder in dioptres, axis in degrees from 0 to 180
 * @throws when a number is missing or not finite, the sphere is beyond 40 D or the cylinder beyond
 * 20 D, the axis is outside 0 to 180, or a cylinder has no axis
 *
 * @example
 * toPowerVector({ sphere: 2, cylinder: -1.5, axis: 30 }) // => { M: 1.25, J0: 0.375, J45: 0.6495 }
 */
export function toPowerVector(prescription: Prescription): PowerVector {
  requirePrescription("toPowerVector", prescription);
  const { sphere, cylinder, axis } = prescription;
  const half = cylinder / 2;
  // adding 0 turns a negative zero into 0
  return {
    M: sphere + half,
    J0: -half * cosineOfTwice(axis ?? 0) + 0,
    J45: -half * sineOfTwice(axis ?? 0) + 0,
  };
}
