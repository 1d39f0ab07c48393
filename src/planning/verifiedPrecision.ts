import { shareOf, verificationShares } from "../accuracy/index.js";
import { logitEstimate } from "../inference/index.js";
import type { Estimate, Undefined } from "../results/index.js";

/** What a programme with partial verification is expected to find. */
interface VerifiedCohort {
  readonly sensitivity: number;
  readonly specificity: number;
  readonly prevalence: number;
  /** Screened children with a usable reading; may be an expected number and so not whole. */
  readonly screened: number;
  readonly shareOfReferred: number;
  readonly shareOfPasses: number;
}

interface VerifiedPrecision {
  readonly referred: number;
  readonly passed: number;
  readonly examinedReferred: number;
  readonly examinedPasses: number;
  /** Missed cases that the exams of passes are expected to show: what the correction rests on. */
  readonly missedSeen: number;
  readonly sensitivity: Estimate | Undefined;
  readonly specificity: Estimate | Undefined;
}

/**
 * Corrected sensitivity and specificity with the logit intervals of `correctVerification`, were
 * exactly the expected found.
 */
export function verifiedPrecision(cohort: VerifiedCohort, level: number): VerifiedPrecision {
  const { sensitivity, specificity, prevalence, screened, shareOfReferred, shareOfPasses } = cohort;
  const cases = screened * prevalence;
  const others = screened - cases;
  const referredCases = cases * sensitivity;
  const referredOthers = others * (1 - specificity);
  const referred = referredCases + referredOthers;
  const passed = screened - referred;
  const missed = cases - referredCases;
  const shares = verificationShares([
    {
      verified: {
        truePositive: referredCases * shareOfReferred,
        falsePositive: referredOthers * shareOfReferred,
        falseNegative: missed * shareOfPasses,
        trueNegative: (passed - missed) * shareOfPasses,
      },
      unverified: {
        testPositive: referred * (1 - shareOfReferred),
        testNegative: passed * (1 - shareOfPasses),
      },
      positives: referred,
      negatives: passed,
      examinedPositives: referred * shareOfReferred,
      examinedNegatives: passed * shareOfPasses,
    },
  ]);
  const corrected = ({ value, variance }: ReturnType<typeof shareOf>) =>
    logitEstimate(value, Math.sqrt(variance), level);
  return {
    referred,
    passed,
    examinedReferred: referred * shareOfReferred,
    examinedPasses: passed * shareOfPasses,
    missedSeen: missed * shareOfPasses,
    sensitivity: corrected(shareOf(shares.truePositive, shares.falseNegative, screened)),
    specificity: corrected(shareOf(shares.trueNegative, shares.falsePositive, screened)),
  };
}
