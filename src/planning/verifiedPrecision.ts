import { correctCells, shareOf, verificationShares } from "../accuracy/index.js";
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

/**
 * The interval of sensitivity that a report of such a study prints, by draws of the cells
 * (`correctByDecision`): were the expected children found, to the nearest whole one.
 */
export function drawnSensitivity(cohort: VerifiedCohort, level: number): Estimate | Undefined {
  const { sensitivity, prevalence, screened, shareOfReferred } = cohort;
  const { referred, examinedReferred, examinedPasses, missedSeen } = verifiedPrecision(
    cohort,
    level,
  );
  const seen = screened * prevalence * sensitivity * shareOfReferred;
  const cell = (decision: "refer" | "pass", n: number, examined: number, cases: number) => ({
    recorded: decision,
    studied: decision,
    group: "",
    n: Math.round(n),
    examined: Math.round(examined),
    cases: Math.round(cases),
    knownOnly: 0,
    own: false,
  });
  const cells = [
    cell("refer", referred, examinedReferred, seen),
    cell("pass", screened - referred, examinedPasses, missedSeen),
  ];
  const [ofReferred, ofPasses] = cells;
  return correctCells(
    {
      kind: "verification-cells",
      n: ofReferred.n + ofPasses.n,
      cells,
      counts: {
        verified: {
          truePositive: ofReferred.cases,
          falsePositive: ofReferred.examined - ofReferred.cases,
          falseNegative: ofPasses.cases,
          trueNegative: ofPasses.examined - ofPasses.cases,
        },
        unverified: {
          testPositive: ofReferred.n - ofReferred.examined,
          testNegative: ofPasses.n - ofPasses.examined,
        },
      },
      knownOnly: { truePositive: 0, falsePositive: 0, falseNegative: 0, trueNegative: 0 },
      excluded: 0,
      rowsPerChild: 1,
    },
    { level, seed: 1, replicates: 4000 },
  ).sensitivity;
}
