export { blurStrength } from "./blurStrength.js";
export { formatPrescription } from "./formatPrescription.js";
export { mirrorEye } from "./mirrorEye.js";
export { parsePrescription } from "./parsePrescription.js";
export type { PowerVector } from "./powerVector.js";
export type { CylinderSign, Prescription } from "./prescription.js";
export { roundToStep } from "./roundToStep.js";
export { sphericalEquivalent } from "./sphericalEquivalent.js";
export { toPowerVector } from "./toPowerVector.js";
export {
  type PowerVectorColumns,
  type PrescriptionColumns,
  toPowerVectors,
} from "./toPowerVectors.js";
export { toPrescription } from "./toPrescription.js";
export { transpose } from "./transpose.js";
