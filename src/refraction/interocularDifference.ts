import { blurStrength } from "./blurStrength.js";
import { inCylinderForm } from "./inCylinderForm.js";
import { mirrorEye } from "./mirrorEye.js";
import { type Prescription, requirePrescription } from "./prescription.js";
import { toPowerVector } from "./toPowerVector.js";

/** Five definitions of the difference between two eyes, all unsigned and in dioptres. */
export interface InterocularDifference {
  /** Of M. */
  readonly sphericalEquivalent: number;
  /** Of the spheres, both in minus-cylinder form. */
  readonly sphere: number;
  /** Of the sizes of the cylinders, whatever their axes. */
  readonly cylinder: number;
  /** The greatest over corresponding meridians: `|dM| + sqrt(dJ0² + dJ45²)`. */
  readonly greatestMeridian: number;
  /** Length of the vector difference: `sqrt(dM² + dJ0² + dJ45²)`. */
  readonly vector: number;
}

/**
 * Difference between the two eyes by five definitions, which can disagree by the whole cylinder:
 * say which one a rule uses.
 *
 * Sphere and cylinder are compared in minus-cylinder form. With `mirror: true` the left eye is
 * mirrored first (J45 changes sign), so that mirror-symmetric axes, such as 10 and 170, do not
 * differ; only `greatestMeridian` and `vector` depend on it. False by default.
 *
 * Sphere and cylinder are in dioptres, axes in degrees.
 *
 * @throws when a prescription is out of range or a cylinder has no axis
 *
 * Source: definitions in common use; the meridian and vector forms follow from Thibos, Wheeler and
 * Horner 1997.
 *
 * @example
 * interocularDifference({ right: { sphere: 1, cylinder: -2, axis: 180 }, left: { sphere: -1, cylinder: 0, axis: null } }) // => { sphericalEquivalent: 1, sphere: 2, cylinder: 2, greatestMeridian: 2, vector: 1.4142 }
 */
export function interocularDifference(
  eyes: { readonly right: Prescription; readonly left: Prescription },
  options: { readonly mirror?: boolean } = {},
): InterocularDifference {
  requirePrescription("interocularDifference", eyes.right);
  requirePrescription("interocularDifference", eyes.left);
  const right = toPowerVector(eyes.right);
  const seenLeft = toPowerVector(eyes.left);
  const left = options.mirror ? mirrorEye(seenLeft) : seenLeft;
  const difference = { M: right.M - left.M, J0: right.J0 - left.J0, J45: right.J45 - left.J45 };
  const sphere = (lens: Prescription) => inCylinderForm(lens, "minus").sphere;
  return {
    sphericalEquivalent: Math.abs(difference.M),
    sphere: Math.abs(sphere(eyes.right) - sphere(eyes.left)),
    cylinder: Math.abs(Math.abs(eyes.right.cylinder) - Math.abs(eyes.left.cylinder)),
    greatestMeridian: Math.abs(difference.M) + Math.hypot(difference.J0, difference.J45),
    vector: blurStrength(difference),
  };
}
