import { InputError } from "../results/index.js";
import { foldedCosine, foldedSine, wholeDegrees } from "./doubledAngle.js";
import { cylinderLimit, sphereLimit } from "./prescription.js";

/** Prescriptions as columns of one length; NaN is missing. */
export interface PrescriptionColumns {
  readonly sphere: ArrayLike<number>;
  readonly cylinder: ArrayLike<number>;
  readonly axis: ArrayLike<number>;
}

/** Power vectors as columns; NaN is a component that cannot be had. */
export interface PowerVectorColumns {
  readonly M: Float64Array;
  readonly J0: Float64Array;
  readonly J45: Float64Array;
}

/**
 * Power vectors of whole columns, each row the same to the last bit as `toPowerVector`.
 *
 * A missing value travels instead of failing: a row without sphere or cylinder has NaN in all three
 * components, a row with a cylinder but without axis has M, and NaN in J0 and J45; a cylinder of 0
 * needs no axis.
 *
 * @param columns sphere and cylinder in dioptres, axis in degrees from 0 to 180, of one length; NaN
 * is missing
 * @param options `into`: arrays of that length to write to and return, for many calls in a row; new
 * ones by default
 * @returns arrays of the same length; count their NaN before using them
 * @throws when lengths differ, or a value is beyond 40 D (sphere), 20 D (cylinder) or outside 0 to
 * 180 (axis)
 *
 * Source: Thibos, Wheeler and Horner 1997.
 *
 * @example
 * Array.from(toPowerVectors({ sphere: [2, 1], cylinder: [-1.5, 0], axis: [30, NaN] }).J0) // => [0.375, 0]
 */
export function toPowerVectors(
  columns: PrescriptionColumns,
  options: { readonly into?: PowerVectorColumns } = {},
): PowerVectorColumns {
  const { sphere, cylinder, axis } = columns;
  const n = sphere.length;
  if (cylinder.length !== n || axis.length !== n) {
    throw new InputError(
      `toPowerVectors requires columns of one length, got ${n}, ${cylinder.length} and ${axis.length}`,
    );
  }
  // in local names, which a loop reads faster than imports
  const { cosines, sines } = wholeDegrees;
  const [cosine, sine] = [foldedCosine, foldedSine];
  const [sphereMost, cylinderMost] = [sphereLimit, cylinderLimit];
  const { into = emptyVectors(n) } = options;
  const { M, J0, J45 } = into;
  if (M.length !== n || J0.length !== n || J45.length !== n) {
    throw new InputError(
      `toPowerVectors requires into to hold ${n} rows, got ${M.length}, ${J0.length} and ${J45.length}`,
    );
  }
  for (let row = 0; row < n; row++) {
    const S = sphere[row];
    const C = cylinder[row];
    const A = axis[row];
    // each comparison is false for NaN, which is missing and not outside
    if (Math.abs(S) > sphereMost || Math.abs(C) > cylinderMost || A < 0 || A > 180) {
      throw outside(row, S, C, A);
    }
    const half = C / 2;
    const equivalent = S + half;
    M[row] = equivalent;
    // 0, or NaN where the equivalent is missing; adding it also turns a negative zero into 0
    const zero = equivalent - equivalent;
    if (half === 0) {
      J0[row] = J45[row] = zero;
    } else if ((A | 0) === A) {
      J0[row] = -half * cosines[A] + zero;
      J45[row] = -half * sines[A] + zero;
    } else {
      J0[row] = -half * cosine(A) + zero;
      J45[row] = -half * sine(A) + zero;
    }
  }
  return into;
}

function emptyVectors(n: number): PowerVectorColumns {
  return { M: new Float64Array(n), J0: new Float64Array(n), J45: new Float64Array(n) };
}

function outside(row: number, sphere: number, cylinder: number, axis: number): InputError {
  return new InputError(
    `toPowerVectors requires spheres within ${sphereLimit} D, cylinders within ${cylinderLimit} D and axes from 0 to 180, got ${sphere}, ${cylinder}, ${axis} at index ${row}`,
  );
}
