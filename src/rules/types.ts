import type { MeasurementStatus } from "../cohort/index.js";
import type { Decision, Relation } from "../rows/index.js";

/** Quantities of one eye; dioptres, signed, more myopic is more negative. */
export type EyeQuantity =
  | "sphere"
  | "mostPositiveMeridian"
  | "mostNegativeMeridian"
  | "M"
  | "cylinder"
  | "horizontal"
  | "vertical"
  | "combined"
  | "logMAR";

/** Quantities of two eyes, all unsigned. */
export type PairQuantity =
  | "M"
  | "sphere"
  | "mostPositiveMeridian"
  | "mostNegativeMeridian"
  | "cylinder"
  | "greatestMeridian"
  | "vector"
  | "J0"
  | "J45"
  | "pupilMm"
  | "logMAR";

export type RuleCriterion =
  | "hyperopia"
  | "myopia"
  | "refraction"
  | "astigmatism"
  | "obliqueAstigmatism"
  | "anisometropia"
  | "pupilDifference"
  | "gazeDeviation"
  | "acuity"
  | "acuityDifference"
  | "strabismus"
  | "mediaOpacity"
  | "ptosis";

/**
 * Whose value is compared. "either": one eye crossing is enough; "both": both must; "worse": the
 * eye further in the criterion's direction; "lesser-error" and "greatest-error": the eye whose
 * quantity is nearer to, or further from, zero; "pair": one value of two eyes.
 */
export type EyeLogic =
  | "either"
  | "both"
  | "worse"
  | "lesser-error"
  | "greatest-error"
  | "right"
  | "left"
  | "pair";

/** A range: one lower and one upper end, each saying whether it is included. */
export interface LimitRange {
  readonly ">"?: number;
  readonly ">="?: number;
  readonly "<"?: number;
  readonly "<="?: number;
}

/** One limit of a rule: `relation` with `limit`, or a `range`, or a yes/no finding (`is`). */
export interface RuleLimit {
  readonly criterion: RuleCriterion;
  readonly quantity?: EyeQuantity | PairQuantity;
  readonly eye?: EyeLogic;
  readonly relation?: Relation;
  readonly limit?: number;
  readonly range?: LimitRange;
  readonly is?: boolean;
  /** Oblique astigmatism: axis more than this many degrees from 90 and from 180. */
  readonly degreesOff?: number;
  /** Anisometropia by J45, greatest meridian or vector: the left eye is mirrored first. */
  readonly mirror?: boolean;
  readonly note?: string;
}

/** A condition over limits; a list means any of its members. */
export type Expression =
  | RuleLimit
  | readonly Expression[]
  | { readonly anyOf: readonly Expression[] }
  | { readonly allOf: readonly Expression[] }
  | { readonly not: Expression }
  | { readonly subRule: string };

export interface RuleBand {
  /** Completed months, half-open: from, up to but not including; null is without end. */
  readonly ageMonths: readonly [number, number | null];
  readonly referWhen: Expression;
  readonly note?: string;
}

/** A referral rule (of a reading) or a target condition (of a finding), as data. */
export interface ReferralRule {
  readonly kind: "rule";
  readonly id: string;
  readonly title: string;
  /** A study's own rule, or one as published; the latter needs its citation. */
  readonly definition: "own" | "published";
  readonly citation?: string;
  readonly appliesTo: "reading" | "finding";
  /** By age; or `referWhen` for every age, known or not. */
  readonly bands?: readonly RuleBand[];
  readonly referWhen?: Expression;
  readonly subRules?: { readonly [name: string]: Expression };
  /** What was chosen where the source leaves it open. */
  readonly chosen?: readonly string[];
  /** What the source has and this rule has not, with the reason. */
  readonly notIncluded?: readonly string[];
  readonly note?: string;
}

/** One eye of a child, as far as it is known. */
export interface RuleEye {
  readonly sphere?: number | null;
  /** Signed, as recorded; either cylinder form. */
  readonly cylinder?: number | null;
  readonly axis?: number | null;
  /** Why there is no measurement, where there is none. */
  readonly status?: MeasurementStatus;
  readonly pupilMm?: number | null;
  /** Degrees. */
  readonly gazeHorizontal?: number | null;
  readonly gazeVertical?: number | null;
  readonly acuityLogMAR?: number | null;
  readonly strabismus?: boolean | null;
  readonly mediaOpacity?: boolean | null;
  readonly ptosis?: boolean | null;
}

/** One child for a rule. Without `ageMonths`, `ageYears` (whole years) bounds the age. */
export interface RuleChild {
  readonly ageMonths?: number | null;
  readonly ageYears?: number | null;
  readonly right?: RuleEye | null;
  readonly left?: RuleEye | null;
}

/** A limit that was crossed, by which eye and by how much. */
export interface CrossedReason {
  readonly kind: "crossed";
  /** Where the limit stands in the rule's JSON. */
  readonly path: string;
  readonly criterion: RuleCriterion;
  readonly eye: "right" | "left" | "pair";
  /** The limit in words. */
  readonly words: string;
  /**
   * Rounded to 0.001, as it was compared; true or false for a yes/no finding; a power beyond the
   * instrument's range has no number.
   */
  readonly value: number | boolean | "over-range" | "under-range";
  readonly limit: number | null;
  /** How far past the limit, 0 at an included limit; null where there is no number. */
  readonly margin: number | null;
  /** The limit stands under a "not": what counts is that it is not crossed. */
  readonly negated: boolean;
}

/** A limit that could not be decided, and what was missing. */
export interface MissingReason {
  readonly kind: "missing";
  readonly path: string;
  readonly criterion: RuleCriterion;
  readonly eye: "right" | "left";
  readonly words: string;
  readonly why: MissingWhy;
}

export type MissingWhy =
  | "no-eye"
  | "unreadable"
  | "over-range"
  | "under-range"
  | "not-attempted"
  | "not-recorded"
  | "no-axis"
  | "tie";

/** The age allows no band, or several that disagree. */
export interface AgeReason {
  readonly kind: "age";
  readonly why: "no-band" | "age-spans-bands" | "age-unknown";
  readonly words: string;
}

export type RuleReason = CrossedReason | MissingReason | AgeReason;

/** What a rule says of one child, and why. */
export interface RuleDecision {
  readonly kind: "rule-decision";
  readonly rule: string;
  readonly decision: Decision;
  readonly reasons: readonly RuleReason[];
  /** The band that decided, in completed months; null where the rule has none or several apply. */
  readonly band: readonly [number, number | null] | null;
}
