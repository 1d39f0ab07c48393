import { proportionInterval, requireLevel } from "../../inference/index.js";
import type { Estimate, Undefined } from "../../results/index.js";
import { requireCount, requireWord } from "../requireTable.js";
import {
  correctedEstimate,
  type VerificationMethod,
  weightedPredictive,
  yieldPer1000,
} from "./correctedEstimates.js";
import { type VerificationBounds, verificationBounds } from "./verificationBounds.js";
import { verificationDraws } from "./verificationDraws.js";
import {
  shareOf,
  sumOf,
  type VerificationShares,
  verificationShares,
} from "./verificationShares.js";
import {
  pooledStratum,
  type Stratum,
  type VerificationCounts,
  verificationStrata,
} from "./verificationStrata.js";

export interface CorrectVerificationOptions {
  /** "logit" by default; "symmetric" reproduces print and may pass 0 or 1. */
  readonly method?: VerificationMethod;
  /** 0.95 by default. */
  readonly level?: number;
  /** Seed of the Jeffreys draws, 1 by default. */
  readonly seed?: number;
  /** Number of Jeffreys draws, 10000 by default. */
  readonly draws?: number;
}

/** Accuracy of all screened children, the unexamined ones standing behind the examined. */
export interface CorrectedAccuracy {
  readonly kind: "corrected-accuracy";
  /** All children, examined or not. */
  readonly n: number;
  readonly examined: { readonly testPositive: number; readonly testNegative: number };
  readonly unexamined: { readonly testPositive: number; readonly testNegative: number };
  readonly strata: number;
  readonly level: number;
  readonly method: VerificationMethod;
  readonly sensitivity: Estimate | Undefined;
  readonly specificity: Estimate | Undefined;
  readonly positivePredictiveValue: Estimate | Undefined;
  readonly negativePredictiveValue: Estimate | Undefined;
  readonly prevalence: Estimate | Undefined;
  /** Children found with the condition per 1000 screened, were every referral examined. */
  readonly yieldPer1000: Estimate | Undefined;
  /** Uncorrected sensitivity and specificity of the examined, for comparison. */
  readonly naive: {
    readonly sensitivity: Estimate | Undefined;
    readonly specificity: Estimate | Undefined;
  };
  readonly bounds: VerificationBounds;
  /** How far a ratio of this precision lies above its truth on average: A var(B) / (A + B)³. */
  readonly ratioBias: number | null;
  readonly notes: readonly string[];
}

/**
 * Sensitivity and specificity when only some children were examined, and examination depended on
 * the test result (and stratum) alone (Begg and Greenes 1983; variance by the delta method, Zhou).
 *
 * Only passes drawn at random may be counted as verified: passes who came by themselves come more
 * often when they have the condition, and break the correction (`countVerification` keeps them
 * apart). Arrays are strata, in one order. Where a verified cell is 0, Jeffreys draws replace the
 * interval. Where no pass of a stratum was examined there is no sensitivity, specificity or negative
 * predictive value: the reason is given, beside the positive predictive value, the yield and the
 * bounds. Coverage by simulation, with few missed cases seen too, is in the room's README: the
 * default interval holds its level, the symmetric one does not.
 *
 * Rates are proportions, 0 to 1.
 *
 * @throws when counts are negative or not whole, strata differ in number, or an option is unknown
 *
 * @example
 * correctVerification({ verified: { truePositive: 231, falsePositive: 32, falseNegative: 27, trueNegative: 54 }, unverified: { testPositive: 166, testNegative: 140 } }).sensitivity.value // => 0.8365
 */
export function correctVerification(
  counts: VerificationCounts,
  options: CorrectVerificationOptions = {},
): CorrectedAccuracy {
  const caller = "correctVerification";
  const { method = "logit", level = 0.95, seed = 1, draws = 10000 } = options;
  requireLevel(caller, level);
  requireWord(caller, "method", ["logit", "symmetric", "jeffreys"], method);
  requireCount(caller, "draws", draws);
  const strata = verificationStrata(caller, counts);
  const pooled = pooledStratum(strata);
  const shares = verificationShares(strata);
  const blind = {
    positive: unexaminedStratum(strata, "positive"),
    negative: unexaminedStratum(strata, "negative"),
  };
  const anyCell0 = Object.values(pooled.verified).includes(0);
  const used = method === "logit" && anyCell0 ? "jeffreys" : method;
  const reason = blind.negative ?? blind.positive;
  const drawn =
    used === "jeffreys" && reason === undefined
      ? verificationDraws(strata, { seed, draws: Math.max(1, draws), level })
      : undefined;
  const settings = { used, level, drawn, reason };
  const { truePositive, falsePositive, falseNegative, trueNegative, n } = shares;
  const sensitivity = correctedEstimate(
    shareOf(truePositive, falseNegative, n),
    "sensitivity",
    settings,
  );
  return {
    kind: "corrected-accuracy",
    n,
    examined: { testPositive: pooled.examinedPositives, testNegative: pooled.examinedNegatives },
    unexamined: { ...pooled.unverified },
    strata: strata.length,
    level,
    method: used,
    sensitivity,
    specificity: correctedEstimate(
      shareOf(trueNegative, falsePositive, n),
      "specificity",
      settings,
    ),
    positivePredictiveValue: weightedPredictive(strata, "positive", level, blind.positive),
    negativePredictiveValue: weightedPredictive(strata, "negative", level, blind.negative),
    prevalence: correctedEstimate(sumOf(truePositive, falseNegative, n), "prevalence", settings),
    yieldPer1000: yieldPer1000(truePositive, blind.positive, n, level),
    naive: naive(pooled, level),
    bounds: verificationBounds(counts),
    ratioBias: sensitivity.kind === "estimate" ? ratioBias(shares) : null,
    notes: notesOn(method, used, strata),
  };
}

/** Why a side of the test has a stratum without a single exam; undefined when there is none. */
function unexaminedStratum(
  strata: readonly Stratum[],
  side: "positive" | "negative",
): string | undefined {
  const total = (s: Stratum) => (side === "positive" ? s.positives : s.negatives);
  const examined = (s: Stratum) =>
    side === "positive" ? s.examinedPositives : s.examinedNegatives;
  const who = side === "positive" ? "was referred" : "passed";
  if (strata.every((s) => total(s) === 0)) return `no child ${who}`;
  if (strata.every((s) => examined(s) === 0)) {
    return side === "positive"
      ? "no child who was referred was examined"
      : "no child who passed was examined: the missed are unknown";
  }
  const stratum = strata.findIndex((s) => total(s) > 0 && examined(s) === 0);
  if (stratum < 0) return undefined;
  return `stratum ${stratum + 1}: none of its ${total(strata[stratum])} children who ${
    side === "positive" ? "were referred" : "passed"
  } was examined`;
}

function naive({ verified }: Stratum, level: number): CorrectedAccuracy["naive"] {
  const { truePositive, falsePositive, falseNegative, trueNegative } = verified;
  return {
    sensitivity: proportionInterval(
      { successes: truePositive, trials: truePositive + falseNegative },
      { level },
    ),
    specificity: proportionInterval(
      { successes: trueNegative, trials: trueNegative + falsePositive },
      { level },
    ),
  };
}

function ratioBias({ truePositive, falseNegative }: VerificationShares): number {
  return (
    (truePositive.value * falseNegative.variance) / (truePositive.value + falseNegative.value) ** 3
  );
}

function notesOn(
  asked: VerificationMethod,
  used: VerificationMethod,
  strata: readonly Stratum[],
): string[] {
  const notes = [
    "Right only if, within each stratum, being examined depended on nothing but the test result.",
  ];
  if (used !== asked) {
    notes.push("A verified cell is 0: Jeffreys draws replace the logit interval.");
  }
  if (used === "symmetric") {
    notes.push("The symmetric interval may pass 0 or 1, and has no width where a cell is 0.");
  }
  const missed = strata.reduce((sum, s) => sum + s.verified.falseNegative, 0);
  if (missed < 10) {
    notes.push(
      `The correction rests on ${missed} missed cases seen: the value lies above the truth on average, the more the fewer.`,
    );
  }
  return notes;
}
