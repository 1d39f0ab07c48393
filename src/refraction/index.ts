// The arithmetic of one eye and of two.

export { decimalToLogMAR, logMARToDecimal, logMARToSnellen, snellenToLogMAR } from "./acuity.js";
export { addPrescriptions } from "./addPrescriptions.js";
export { type AstigmatismOrientation, astigmatismOrientation } from "./astigmatismOrientation.js";
export { atVertex } from "./atVertex.js";
export { averagePrescriptions } from "./averagePrescriptions.js";
export { blurStrength } from "./blurStrength.js";
export {
  type EyesInCell,
  type EyesOfCell,
  eyesInCellWords,
  eyesOfCell,
  holdsNotation,
  isWholePrescription,
  twoEyesIn,
} from "./eyesOfCell.js";
export { formatPrescription } from "./formatPrescription.js";
export { type InterocularDifference, interocularDifference } from "./interocularDifference.js";
export { meridionalPower } from "./meridionalPower.js";
export { mirrorEye } from "./mirrorEye.js";
export { isNotation, parsePrescription, readPrescription } from "./parsePrescription.js";
export { fromPowerMatrix, type PowerMatrix, toPowerMatrix } from "./powerMatrix.js";
export type { PowerVector } from "./powerVector.js";
export type { CylinderSign, Prescription } from "./prescription.js";
export { combinePrisms, gazeToPrism, prismToGaze } from "./prism.js";
export { pupilDifference } from "./pupilDifference.js";
export { roundToStep } from "./roundToStep.js";
export { equivalentOf, sphericalEquivalent } from "./sphericalEquivalent.js";
export { toPowerVector } from "./toPowerVector.js";
export {
  type PowerVectorColumns,
  type PrescriptionColumns,
  toPowerVectors,
} from "./toPowerVectors.js";
export { toPrescription } from "./toPrescription.js";
export { transpose } from "./transpose.js";
