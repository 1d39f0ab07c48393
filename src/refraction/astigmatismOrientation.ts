import { InputError } from "../results/index.js";
import { inCylinderForm } from "./inCylinderForm.js";
import { type Prescription, requirePrescription } from "./prescription.js";

/** Orientation of astigmatism by its axis. */
export type AstigmatismOrientation = "with-the-rule" | "against-the-rule" | "oblique" | "none";

/**
 * Orientation of astigmatism, by the axis in minus-cylinder form: within `tolerance` of 180 is with
 * the rule (J0 positive), within it of 90 against the rule (J0 negative), the limit included; any
 * other oblique. "none" only where the cylinder is exactly 0: say a least cylinder beforehand.
 *
 * @param options `tolerance` in degrees, above 0 and below 45; 30 by default. Half-widths of 15, 20
 * and 30 are all in use (common practice), so state it
 * @throws when the prescription is out of range or lacks an axis, or the tolerance is
 *
 * @example
 * astigmatismOrientation({ sphere: 0, cylinder: 1, axis: 85 }) // => "with-the-rule"
 * astigmatismOrientation({ sphere: 0, cylinder: -1, axis: 25 }, { tolerance: 20 }) // => "oblique"
 */
export function astigmatismOrientation(
  prescription: Prescription,
  options: { readonly tolerance?: number } = {},
): AstigmatismOrientation {
  requirePrescription("astigmatismOrientation", prescription);
  const { tolerance = 30 } = options;
  if (!(tolerance > 0 && tolerance < 45)) {
    throw new InputError(
      `astigmatismOrientation requires a tolerance above 0 and below 45 degrees, got ${tolerance}`,
    );
  }
  const { cylinder, axis } = inCylinderForm(prescription, "minus");
  if (cylinder === 0 || axis === null) return "none";
  const fromHorizontal = Math.min(axis, 180 - axis);
  if (fromHorizontal <= tolerance) return "with-the-rule";
  return 90 - fromHorizontal <= tolerance ? "against-the-rule" : "oblique";
}
