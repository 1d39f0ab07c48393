import { type PowerVector, requireVector } from "./powerVector.js";

/**
 * Blur strength, B: the length of the power vector, `sqrt(M² + J0² + J45²)`, in dioptres; never
 * negative. For a difference of two vectors it is their dioptric distance.
 *
 * @throws when a component is not finite
 *
 * Source: Thibos, Wheeler and Horner 1997.
 *
 * @example
 * blurStrength({ M: 1.25, J0: 0.375, J45: 0.6495 }) // => 1.4577
 */
export function blurStrength(vector: PowerVector): number {
  requireVector("blurStrength", vector);
  return Math.sqrt(vector.M ** 2 + vector.J0 ** 2 + vector.J45 ** 2);
}
