import { InputError } from "../results/index.js";

/**
 * Rounds to the nearest multiple of a step, halves away from zero. A step of 0.12 is eighths of a
 * dioptre, as prescriptions write them.
 *
 * @param value a finite number
 * @param step above 0, such as 0.25
 * @throws when the value is not finite or the step not above 0
 *
 * @example
 * roundToStep(-1.375, 0.25) // => -1.5
 */
export function roundToStep(value: number, step: number): number {
  if (!(step > 0) || !Number.isFinite(step) || !Number.isFinite(value)) {
    throw new InputError(
      `roundToStep requires a finite value and a step above 0, got ${value}, ${step}`,
    );
  }
  const size = step === 0.12 ? 0.125 : step;
  // a little more than one half: 1.005 / 0.01 is just below 100.5
  const steps = Math.floor(Math.abs(value) / size + 0.5 + 1e-9);
  return Math.sign(value) * Number((steps * size).toPrecision(12)) + 0;
}
