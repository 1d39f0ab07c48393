import { InputError } from "../results/index.js";
import { cosineOfTwice, sineOfTwice } from "./doubledAngle.js";
import { type Prescription, requirePrescription } from "./prescription.js";
import { toPowerVector } from "./toPowerVector.js";

/**
 * Power of a lens along a meridian: `M + J0 cos 2t + J45 sin 2t`, which is `S + C sin²(t - A)`, in
 * dioptres. The power is S along the axis and S + C across it.
 *
 * @param meridian degrees, any finite number; meridians 180 apart are one
 * @throws when the meridian is not finite, or the prescription is out of range or lacks an axis
 *
 * Source: Thibos, Wheeler and Horner 1997.
 *
 * @example
 * meridionalPower({ sphere: 2, cylinder: -1.5, axis: 30 }, 120) // => 0.5
 */
export function meridionalPower(prescription: Prescription, meridian: number): number {
  if (!Number.isFinite(meridian)) {
    throw new InputError(`meridionalPower requires a finite meridian, got ${meridian}`);
  }
  requirePrescription("meridionalPower", prescription);
  const { M, J0, J45 } = toPowerVector(prescription);
  const direction = ((meridian % 180) + 180) % 180;
  return M + J0 * cosineOfTwice(direction) + J45 * sineOfTwice(direction);
}
