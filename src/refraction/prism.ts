import { InputError } from "../results/index.js";

/**
 * A deviation of gaze in degrees as prism dioptres, `100 tan(angle)`; the sign stays.
 *
 * @param degrees above -90 and below 90
 * @throws when the angle is outside that
 *
 * Source: definition of the prism dioptre, 1 cm at 1 m.
 *
 * @example
 * gazeToPrism(5) // => 8.749
 */
export function gazeToPrism(degrees: number): number {
  if (!(Math.abs(degrees) < 90)) {
    throw new InputError(
      `gazeToPrism requires an angle between -90 and 90 degrees, got ${degrees}`,
    );
  }
  return 100 * Math.tan((degrees * Math.PI) / 180);
}

/**
 * Prism dioptres as degrees, the inverse of `gazeToPrism`.
 *
 * @param prism in prism dioptres
 * @throws when the prism is not finite
 *
 * @example
 * prismToGaze(8) // => 4.574
 */
export function prismToGaze(prism: number): number {
  if (!Number.isFinite(prism)) {
    throw new InputError(`prismToGaze requires finite prism dioptres, got ${prism}`);
  }
  return (Math.atan(prism / 100) * 180) / Math.PI;
}

/**
 * A horizontal and a vertical deviation as one, in prism dioptres, with its angle from the
 * horizontal in degrees, in (-180, 180]. Prism dioptres add as vectors, degrees of gaze do not.
 *
 * @returns the angle null where there is no deviation
 * @throws when a component is not finite
 *
 * @example
 * combinePrisms({ horizontal: 6, vertical: 8 }) // => { prism: 10, angle: 53.13 }
 */
export function combinePrisms(deviation: {
  readonly horizontal: number;
  readonly vertical: number;
}): { readonly prism: number; readonly angle: number | null } {
  const { horizontal, vertical } = deviation;
  if (!Number.isFinite(horizontal) || !Number.isFinite(vertical)) {
    throw new InputError(
      `combinePrisms requires finite prism dioptres, got ${horizontal} and ${vertical}`,
    );
  }
  const prism = Math.hypot(horizontal, vertical);
  const angle = (Math.atan2(vertical, horizontal) * 180) / Math.PI;
  return { prism, angle: prism === 0 ? null : angle };
}
