import type { CylinderSign, Prescription } from "./prescription.js";
import { transpose } from "./transpose.js";

/** The same lens with its cylinder in the sign asked for; a cylinder of 0 is in both. */
export function inCylinderForm(lens: Prescription, sign: CylinderSign | undefined): Prescription {
  const given =
    sign === undefined || lens.cylinder === 0 || lens.cylinder > 0 === (sign === "plus");
  return given ? lens : transpose(lens);
}
