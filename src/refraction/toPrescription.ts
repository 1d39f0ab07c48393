import { type PowerVector, requireVector } from "./powerVector.js";
import type { CylinderSign, Prescription } from "./prescription.js";

/** Cylinders below this are residue of floating-point sums; axes below it, the axis 180. */
const residue = 1e-12;

/**
 * The prescription of a power vector, in minus-cylinder form unless asked otherwise.
 *
 * `C = -2 sqrt(J0² + J45²)`, `S = M - C/2`, axis half the angle of (J0, J45), in (0, 180]. The axis
 * is null where the cylinder is 0 (below 1e-12 D): astigmatism that cancels has no axis.
 *
 * @param options `cylinder`: "minus" (default) or "plus"
 * @throws when a component is not finite
 *
 * Source: Thibos, Wheeler and Horner 1997.
 *
 * @example
 * toPrescription({ M: -2, J0: 0.3, J45: -0.4 }) // => { sphere: -1.5, cylinder: -1, axis: 153.43 }
 * toPrescription({ M: -0.5, J0: 0, J45: 0 }) // => { sphere: -0.5, cylinder: 0, axis: null }
 */
export function toPrescription(
  vector: PowerVector,
  options: { readonly cylinder?: CylinderSign } = {},
): Prescription {
  requireVector("toPrescription", vector);
  const { M, J0, J45 } = vector;
  const half = Math.hypot(J0, J45);
  if (2 * half < residue) return { sphere: M, cylinder: 0, axis: null };
  const minusAxis = (Math.atan2(J45, J0) * 90) / Math.PI;
  return options.cylinder === "plus"
    ? { sphere: M - half, cylinder: 2 * half, axis: halfTurn(minusAxis + 90) }
    : { sphere: M + half, cylinder: -2 * half, axis: halfTurn(minusAxis) };
}

/** Into (0, 180]. */
function halfTurn(angle: number): number {
  // a rounding error above 180 would be no axis
  return Math.min(180, angle < residue ? angle + 180 : angle);
}
