/**
 * Cosine and sine of twice an axis in degrees, for axes from 0 to 180.
 *
 * Angles are folded into the first 45 degrees, so that an axis, its mirror image (180 - axis) and
 * its perpendicular give the same digits up to the sign, and 0, 45, 90, 135, 180 give exact zeros:
 * axes that should cancel do. Whole degrees come from a table of the same values.
 */
export function cosineOfTwice(axis: number): number {
  return (axis | 0) === axis ? wholeDegrees.cosines[axis] : foldedCosine(axis);
}

export function sineOfTwice(axis: number): number {
  return (axis | 0) === axis ? wholeDegrees.sines[axis] : foldedSine(axis);
}

const radiansOfTwice = Math.PI / 90;

export function foldedCosine(axis: number): number {
  const fromHorizontal = axis <= 90 ? axis : 180 - axis;
  if (fromHorizontal === 45) return 0;
  return fromHorizontal < 45
    ? Math.cos(fromHorizontal * radiansOfTwice)
    : -Math.cos((90 - fromHorizontal) * radiansOfTwice);
}

export function foldedSine(axis: number): number {
  const fromHorizontal = axis <= 90 ? axis : 180 - axis;
  const fromRule = fromHorizontal <= 45 ? fromHorizontal : 90 - fromHorizontal;
  const size = Math.sin(fromRule * radiansOfTwice);
  return axis <= 90 ? size : -size;
}

const degrees = Array.from({ length: 181 }, (_, degree) => degree);

/** The same values for 0 to 180, by whole degree. */
export const wholeDegrees = {
  cosines: Float64Array.from(degrees, foldedCosine),
  sines: Float64Array.from(degrees, foldedSine),
};
