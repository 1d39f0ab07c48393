import type { Undefined } from "../../results/index.js";
import { type Bounds, bounds, type RateBounds } from "../rateBounds.js";
import {
  knownCounts,
  type PooledCounts,
  type VerificationCounts,
  verificationStrata,
} from "./verificationStrata.js";

/** The least and the greatest accuracy that the unexamined children allow. */
export interface VerificationBounds extends RateBounds {
  readonly kind: "verification-bounds";
  /** The counts behind the bounds, strata added up. */
  readonly counts: PooledCounts;
  readonly prevalence: Bounds | Undefined;
}

/**
 * What the accuracy would be at the two extremes of the unexamined: nothing is assumed about them.
 *
 * Each bound fills the unexamined of one test result with and those of the other without the
 * condition: sensitivity is least when every unexamined pass has the condition and every unexamined
 * referral has not, and so on. `foundMeanwhile` are known whatever they came for, and stay as they
 * are. Undefined where a bound would be 0 of 0.
 *
 * Rates are proportions, 0 to 1.
 *
 * @throws when counts are negative or not whole, or the strata differ in number
 *
 * @example
 * verificationBounds({ verified: { truePositive: 231, falsePositive: 32, falseNegative: 27, trueNegative: 54 }, unverified: { testPositive: 166, testNegative: 140 } }).sensitivity // => { kind: "bounds", low: 0.5804, high: 0.9363 }
 */
export function verificationBounds(counts: VerificationCounts): VerificationBounds {
  return boundsOfCounts(knownCounts(verificationStrata("verificationBounds", counts)));
}

/** The bounds from counts of everybody who is known, and of the others. */
export function boundsOfCounts(pooled: PooledCounts): VerificationBounds {
  const { verified, unverified } = pooled;
  const { truePositive, falsePositive, falseNegative, trueNegative } = verified;
  const { testPositive, testNegative } = unverified;
  return {
    kind: "verification-bounds",
    counts: pooled,
    sensitivity: bounds(
      [truePositive, falseNegative + testNegative],
      [truePositive + testPositive, falseNegative],
    ),
    specificity: bounds(
      [trueNegative, falsePositive + testPositive],
      [trueNegative + testNegative, falsePositive],
    ),
    positivePredictiveValue: bounds(
      [truePositive, falsePositive + testPositive],
      [truePositive + testPositive, falsePositive],
    ),
    negativePredictiveValue: bounds(
      [trueNegative, falseNegative + testNegative],
      [trueNegative + testNegative, falseNegative],
    ),
    prevalence: bounds(
      [truePositive + falseNegative, falsePositive + trueNegative + testPositive + testNegative],
      [truePositive + falseNegative + testPositive + testNegative, falsePositive + trueNegative],
    ),
  };
}
