import { type Prescription, requirePrescription } from "./prescription.js";

/**
 * The same lens in the other cylinder sign: sphere + cylinder, -cylinder, the axis turned by 90
 * degrees into (0, 180]. An axis of null stays null.
 *
 * @throws when the prescription is out of range or a cylinder has no axis
 *
 * @example
 * transpose({ sphere: 1.5, cylinder: -0.5, axis: 125 }) // => { sphere: 1, cylinder: 0.5, axis: 35 }
 */
export function transpose(prescription: Prescription): Prescription {
  requirePrescription("transpose", prescription);
  const { sphere, cylinder, axis } = prescription;
  // adding 0 turns a negative zero into 0
  return {
    sphere: sphere + cylinder + 0,
    cylinder: 0 - cylinder,
    axis: axis === null || axis === undefined ? null : axis > 90 ? axis - 90 : axis + 90,
  };
}
