import type { SimulatedChild, SimulatedEye } from "./simulatedChild.js";

/** The default condition, on the finding; plain limits, invented, no published category. */
export const conditionLimits = {
  hyperopia: 4.5,
  myopia: -2.5,
  astigmatism: 3,
  anisometropia: 2.25,
} as const;

/** The default referral, on the dry reading; plain limits, invented, of no instrument. */
const referralLimits = {
  hyperopia: 3,
  myopia: -2.75,
  astigmatism: 3,
  anisometropia: 2.25,
} as const;

type Limits = { readonly [Criterion in keyof typeof conditionLimits]: number };

/**
 * The default condition: either eye at or past an invented plain limit of M (hyperopia +4.50,
 * myopia -2.50), of the cylinder's size (3.00), or a difference of M of 2.25 between the eyes.
 *
 * @example
 * const eye = { status: "measured", M: 5, J0: 0, J45: 0, sphere: 5, cylinder: 0 };
 * const rest = { ageMonths: 50, site: 0, strabismus: false, mediaOpacity: false };
 * defaultCondition({ right: eye, left: eye, ...rest }) // => true
 */
export function defaultCondition(child: SimulatedChild): boolean {
  return (
    crosses(child.right, conditionLimits) ||
    crosses(child.left, conditionLimits) ||
    Math.abs(child.right.M - child.left.M) >= conditionLimits.anisometropia
  );
}

/**
 * The default referral: a limit crossed (M +3.00, -2.75; cylinder 3.00; difference 2.25, all
 * invented), a sphere beyond the range, or else undecidable while an eye has no measurement.
 *
 * @example
 * const eye = { status: "unreadable", M: NaN, J0: NaN, J45: NaN, sphere: NaN, cylinder: NaN };
 * const rest = { ageMonths: 50, site: 0, strabismus: false, mediaOpacity: false };
 * defaultReferral({ right: eye, left: eye, ...rest }) // => "undecidable"
 */
export function defaultReferral(child: SimulatedChild): "refer" | "pass" | "undecidable" {
  const { right, left } = child;
  if (refers(right) || refers(left)) return "refer";
  if (right.status !== "measured" || left.status !== "measured") return "undecidable";
  return Math.abs(right.M - left.M) >= referralLimits.anisometropia ? "refer" : "pass";
}

function refers(eye: SimulatedEye): boolean {
  if (eye.status === "measured") return crosses(eye, referralLimits);
  return eye.status === "over-range" || eye.status === "under-range";
}

function crosses(eye: SimulatedEye, limits: Limits): boolean {
  return eye.M >= limits.hyperopia || eye.M <= limits.myopia || -eye.cylinder >= limits.astigmatism;
}
