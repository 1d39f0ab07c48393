import {
  combinePrisms,
  gazeToPrism,
  interocularDifference,
  mirrorEye,
  type Prescription,
  pupilDifference,
  sphericalEquivalent,
  toPowerVector,
} from "../refraction/index.js";
import type { Leaf } from "./compileRule.js";
import type { MissingWhy, RuleEye } from "./types.js";

/** A value, or why there is none. */
export type EyeValue = number | MissingWhy;

/** The value of a limit's quantity in one eye; 1 is yes, 0 is no. */
export function eyeValue(leaf: Leaf, eye: RuleEye | null | undefined): EyeValue {
  if (eye === null || eye === undefined) return "no-eye";
  const { limit } = leaf;
  switch (limit.criterion) {
    case "strabismus":
    case "mediaOpacity":
    case "ptosis": {
      const yes = eye[limit.criterion];
      return yes === true ? 1 : yes === false ? 0 : "not-recorded";
    }
    case "acuity":
    case "acuityDifference":
      return recorded(eye.acuityLogMAR);
    case "pupilDifference":
      return recorded(eye.pupilMm);
    case "gazeDeviation":
      return gaze(limit.quantity!, eye);
    default:
      return power(leaf, eye);
  }
}

/** The value of a pair of eyes whose single values are known; `eyes` are complete. */
export function pairValue(leaf: Leaf, eyes: { right: RuleEye; left: RuleEye }): number {
  const { limit } = leaf;
  if (limit.criterion === "pupilDifference") {
    return pupilDifference({ right: eyes.right.pupilMm!, left: eyes.left.pupilMm! });
  }
  if (limit.criterion === "acuityDifference") {
    return Math.abs(eyes.right.acuityLogMAR! - eyes.left.acuityLogMAR!);
  }
  const right = prescription(eyes.right);
  const left = prescription(eyes.left);
  switch (limit.quantity) {
    case "J0":
      return Math.abs(toPowerVector(right).J0 - toPowerVector(left).J0);
    case "J45": {
      const seen = toPowerVector(left);
      const compared = limit.mirror ? mirrorEye(seen) : seen;
      return Math.abs(toPowerVector(right).J45 - compared.J45);
    }
    case "greatestMeridian":
    case "vector":
      return interocularDifference({ right, left }, { mirror: limit.mirror })[limit.quantity];
    default:
      return Math.abs((power(leaf, eyes.right) as number) - (power(leaf, eyes.left) as number));
  }
}

function power(leaf: Leaf, eye: RuleEye): EyeValue {
  const { sphere, cylinder } = eye;
  const { quantity, degreesOff } = leaf.limit;
  if (quantity === "cylinder") {
    if (!known(cylinder)) return unmeasured(eye);
    if (degreesOff === undefined || cylinder === 0) return Math.abs(cylinder);
    return known(eye.axis) ? (isOblique(eye.axis, degreesOff) ? Math.abs(cylinder) : 0) : "no-axis";
  }
  if (!known(sphere) || !known(cylinder)) return beyondRange(leaf, eye) ?? unmeasured(eye);
  switch (quantity) {
    case "M":
      return sphericalEquivalent(withoutAxis(sphere, cylinder));
    case "mostNegativeMeridian":
      return Math.min(sphere, sphere + cylinder);
    case "sphere":
    case "mostPositiveMeridian":
      return Math.max(sphere, sphere + cylinder);
    default:
      return cylinder !== 0 && !known(eye.axis) ? "no-axis" : 0;
  }
}

/**
 * A power above the instrument's range is above every limit on the equivalent and the most positive
 * meridian; one below it, below every limit on the equivalent and the most negative meridian.
 */
function beyondRange({ limit, eye: logic }: Leaf, { status }: RuleEye): number | null {
  if (logic === "pair") return null;
  const { quantity } = limit;
  if (status === "over-range" && quantity !== "mostNegativeMeridian") {
    return Number.POSITIVE_INFINITY;
  }
  const least = quantity === "mostNegativeMeridian" || quantity === "M";
  return status === "under-range" && least ? Number.NEGATIVE_INFINITY : null;
}

/** The axis does not move the equivalent. */
function withoutAxis(sphere: number, cylinder: number): Prescription {
  return { sphere, cylinder, axis: 180 };
}

function prescription(eye: RuleEye): Prescription {
  return { sphere: eye.sphere!, cylinder: eye.cylinder!, axis: eye.axis ?? null };
}

/** More than `off` degrees from 90 and from 180, in either cylinder form. */
export function isOblique(axis: number, off: number): boolean {
  const fromHorizontal = Math.min(axis, 180 - axis);
  return fromHorizontal > off && 90 - fromHorizontal > off;
}

function gaze(quantity: string, eye: RuleEye): EyeValue {
  const { gazeHorizontal, gazeVertical } = eye;
  if (quantity === "horizontal") {
    return known(gazeHorizontal) ? Math.abs(gazeToPrism(gazeHorizontal)) : unmeasured(eye);
  }
  if (quantity === "vertical") {
    return known(gazeVertical) ? Math.abs(gazeToPrism(gazeVertical)) : unmeasured(eye);
  }
  if (!known(gazeHorizontal) || !known(gazeVertical)) return unmeasured(eye);
  return combinePrisms({
    horizontal: gazeToPrism(gazeHorizontal),
    vertical: gazeToPrism(gazeVertical),
  }).prism;
}

function recorded(value: number | null | undefined): EyeValue {
  return known(value) ? value : "not-recorded";
}

function unmeasured({ status }: RuleEye): MissingWhy {
  return status === undefined || status === "measured" ? "not-recorded" : status;
}

function known(value: number | null | undefined): value is number {
  return value !== null && value !== undefined && !Number.isNaN(value);
}
