import { inCylinderForm } from "./inCylinderForm.js";
import { type CylinderSign, type Prescription, requirePrescription } from "./prescription.js";
import { roundToStep } from "./roundToStep.js";

/**
 * A prescription in clinic notation: signs always shown, at least two decimals, the axis in three
 * digits, 180 and never 0; without cylinder "-2.00 DS".
 *
 * Nothing is rounded unless a step is given (residue below 1e-9 aside), so that `parsePrescription`
 * reads the same lens back. With a step, the cylinder form is chosen first, then sphere and
 * cylinder are rounded to it and the axis to whole degrees; a cylinder rounded to 0 takes its axis
 * with it. A step of 0.12 is eighths, whose third decimal is not written: 0.125 as "0.12", 0.375 as
 * "0.37" (common practice, no source).
 *
 * @param options `cylinder`: "minus" or "plus", by default as given; `step` in dioptres
 * @throws when the prescription is out of range or the step not positive
 *
 * @example
 * formatPrescription({ sphere: 1.25, cylinder: -0.5, axis: 0 }) // => "+1.25 -0.50 x 180"
 * formatPrescription({ sphere: 1.25, cylinder: -0.5, axis: 5 }, { cylinder: "plus" }) // => "+0.75 +0.50 x 095"
 * formatPrescription({ sphere: -7.2993, cylinder: -2.418, axis: 20 }, { step: 0.25 }) // => "-7.25 -2.50 x 020"
 */
export function formatPrescription(
  prescription: Prescription,
  options: { readonly cylinder?: CylinderSign; readonly step?: number } = {},
): string {
  requirePrescription("formatPrescription", prescription);
  const lens = inCylinderForm(prescription, options.cylinder);
  const { step } = options;
  const sphere = power(lens.sphere, step);
  if (step !== undefined && roundToStep(lens.cylinder, step) === 0) return `${sphere} DS`;
  if (lens.axis === null || lens.axis === undefined) return `${sphere} DS`;
  return `${sphere} ${power(lens.cylinder, step)} x ${axisText(lens.axis, step)}`;
}

function power(value: number, step: number | undefined): string {
  const size = Math.abs(step === undefined ? value : roundToStep(value, step));
  const digits =
    step === 0.12 ? (Math.floor(size * 100) / 100).toFixed(2) : atLeastTwoDecimals(size);
  return `${value < 0 && Number(digits) !== 0 ? "-" : "+"}${digits}`;
}

function atLeastTwoDecimals(size: number): string {
  const [whole, decimals] = size.toFixed(9).split(".");
  return `${whole}.${decimals!.replace(/0+$/, "").padEnd(2, "0")}`;
}

function axisText(axis: number, step: number | undefined): string {
  const rounded = step === undefined ? Number(axis.toFixed(9)) : Math.round(axis);
  const [whole, decimals] = (rounded === 0 ? 180 : rounded).toFixed(9).split(".");
  return `${whole!.padStart(3, "0")}.${decimals}`.replace(/\.?0+$/, "");
}
