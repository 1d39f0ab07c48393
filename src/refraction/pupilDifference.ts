import { InputError } from "../results/index.js";

/**
 * Unsigned difference of the pupil diameters of two eyes, in millimetres.
 *
 * @param pupilMm diameters of both eyes, above 0 and up to 12 mm
 * @throws when a diameter is outside that
 *
 * @example
 * pupilDifference({ right: 5.5, left: 6.75 }) // => 1.25
 */
export function pupilDifference(pupilMm: {
  readonly right: number;
  readonly left: number;
}): number {
  for (const eye of ["right", "left"] as const) {
    if (!(pupilMm[eye] > 0 && pupilMm[eye] <= 12)) {
      throw new InputError(
        `pupilDifference requires diameters above 0 and up to 12 mm, got ${pupilMm[eye]} (${eye})`,
      );
    }
  }
  return Math.abs(pupilMm.right - pupilMm.left);
}
