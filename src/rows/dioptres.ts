/**
 * Thousandths to the unit and a hair (1e-10 of the value), away from zero on either side: a half that
 * binary digits put just short of itself, such as 4.4 + 0.327 / 2 = 4.5635, is a half still.
 */
const scale = 1000 + 1e-7;

/**
 * A value in whole thousandths: how every dioptre value and every limit is rounded before they are
 * compared, tied or counted. A half goes away from zero, so that a value and its mirror image round
 * alike. NaN and infinities stay; sizes up to a million.
 *
 * Values carry binary noise (S + C/2 of readings in hundredths gives several doubles for one true
 * value), so nothing is compared as it comes. Means, SDs and limits of agreement are computed from
 * values that are not rounded.
 */
export function toThousandths(value: number): number {
  return Math.floor(value * scale + 0.5);
}

/** The value on the grid of thousandths; NaN and infinities stay. */
export function onGrid(value: number): number {
  return toThousandths(value) / 1000;
}

/** Whether a value is a whole thousandth, but for binary noise. */
export function isOnGrid(value: number): boolean {
  return withoutNoise(value) === onGrid(value);
}

/** 1e-12 (of the size from 1 on): far above what sums of a few dioptres leave behind, far below what is measured. */
export function noiseOf(value: number): number {
  return 1e-12 * Math.max(1, Math.abs(value));
}

/**
 * A whole thousandth where the value is one but for noise (`noiseOf`); any other value as it is. For places that tie values without knowing their unit: 2.3 + 0.01 / 2 and
 * 2.305 become one value, while scores and probabilities are not rounded. No -0.
 */
export function withoutNoise(value: number): number {
  const whole = Math.floor(value * 1000 + 0.5);
  const isNear = Math.abs(value * 1000 - whole) <= 1000 * noiseOf(value);
  return isNear ? whole / 1000 : value;
}
