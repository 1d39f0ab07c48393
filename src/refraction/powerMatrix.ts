import { InputError } from "../results/index.js";
import { type CylinderSign, type Prescription, requirePrescription } from "./prescription.js";
import { toPowerVector } from "./toPowerVector.js";
import { toPrescription } from "./toPrescription.js";

/** Symmetric dioptric power matrix, rows first, x to 0 degrees and y to 90. */
export type PowerMatrix = readonly [readonly [number, number], readonly [number, number]];

/**
 * The dioptric power matrix of a lens, `[[M + J0, J45], [J45, M - J0]]`.
 *
 * Its trace is 2M, its eigenvalues are the principal powers S and S + C, and the power along the
 * unit vector u is `u'Fu`. Source: Long 1976; Harris 1988.
 *
 * @throws when the prescription is out of range or a cylinder has no axis
 *
 * @example
 * toPowerMatrix({ sphere: 2, cylinder: -1.5, axis: 30 }) // => [[1.625, 0.6495], [0.6495, 0.875]]
 */
export function toPowerMatrix(prescription: Prescription): PowerMatrix {
  requirePrescription("toPowerMatrix", prescription);
  const { M, J0, J45 } = toPowerVector(prescription);
  return [
    [M + J0, J45],
    [J45, M - J0],
  ];
}

/**
 * The prescription of a power matrix, in minus-cylinder form unless asked otherwise; the axis is
 * null where both eigenvalues are equal.
 *
 * @param matrix symmetric, in dioptres
 * @param options `cylinder`: "minus" (default) or "plus"
 * @throws when an element is not finite or the matrix is not symmetric (within 1e-9 D): a thin lens
 * has a symmetric one, a thick system need not
 *
 * @example
 * fromPowerMatrix([[1.625, 0], [0, 0.875]]) // => { sphere: 1.625, cylinder: -0.75, axis: 180 }
 */
export function fromPowerMatrix(
  matrix: PowerMatrix,
  options: { readonly cylinder?: CylinderSign } = {},
): Prescription {
  const [[xx, xy], [yx, yy]] = matrix;
  if (![xx, xy, yx, yy].every(Number.isFinite)) {
    throw new InputError(`fromPowerMatrix requires finite elements, got ${[xx, xy, yx, yy]}`);
  }
  if (Math.abs(xy - yx) > 1e-9) {
    throw new InputError(`fromPowerMatrix requires a symmetric matrix, got ${xy} and ${yx}`);
  }
  return toPrescription({ M: (xx + yy) / 2, J0: (xx - yy) / 2, J45: (xy + yx) / 2 }, options);
}
