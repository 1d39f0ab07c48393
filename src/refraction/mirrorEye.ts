import { type PowerVector, requireVector } from "./powerVector.js";

/**
 * The mirror image of an eye: J45 changes sign, M and J0 stay (axis A becomes 180 - A).
 *
 * Right and left eyes are mirror images of each other, so that left eyes are mirrored before both
 * are pooled; unmirrored, an oblique bias cancels.
 *
 * Components are in dioptres.
 *
 * @throws when a component is not finite
 *
 * @example
 * mirrorEye({ M: 1.25, J0: 0.375, J45: 0.6495 }) // => { M: 1.25, J0: 0.375, J45: -0.6495 }
 */
export function mirrorEye(vector: PowerVector): PowerVector {
  requireVector("mirrorEye", vector);
  return { M: vector.M, J0: vector.J0, J45: 0 - vector.J45 };
}
