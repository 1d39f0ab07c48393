import { requireLevel } from "../../inference/index.js";
import { formerNames, type TwoByTwo } from "../../results/index.js";
import { requireCount, requireWord } from "../requireTable.js";
import { cellDraws } from "./cellDraws.js";
import { correctedMeasures, ratedCells } from "./cellRates.js";
import { correctCells, naiveRates } from "./correctCells.js";
import type { CorrectedAccuracy } from "./correctedAccuracy.js";
import {
  correctedEstimate,
  type VerificationMethod,
  weightedPredictive,
  yieldPer1000,
} from "./correctedEstimates.js";
import { boundsOfCounts } from "./verificationBounds.js";
import type { VerificationCell } from "./verificationCells.js";
import {
  shareOf,
  sumOf,
  type VerificationShares,
  verificationShares,
} from "./verificationShares.js";
import {
  knownCounts,
  pooledStratum,
  type Stratum,
  type VerificationCounts,
  verificationStrata,
} from "./verificationStrata.js";

export interface CorrectVerificationOptions {
  /**
   * "draws" by default: holds its level with few missed cases drawn too. "logit" is the delta method,
   * with "jeffreys" draws where a verified cell is 0; "symmetric" reproduces print and may pass 0 or 1.
   */
  readonly method?: VerificationMethod;
  /** 0.95 by default. */
  readonly level?: number;
  /** Seed of the draws, 1 by default. */
  readonly seed?: number;
  /** Number of draws, 10000 by default. */
  readonly replicates?: number;
}

/**
 * Sensitivity and specificity when only some children were examined, and examination depended on
 * the test result (and stratum) alone (Begg and Greenes 1983). The rule under study is the one that
 * decided whom to examine; where it is another, `correctByDecision`.
 *
 * Only passes drawn at random may be counted as verified: passes who came by themselves come more
 * often when they have the condition, and break the correction. `countVerification` keeps them apart
 * as `foundMeanwhile`: they enter the bounds and the known counts. Arrays are strata, in one order.
 *
 * The interval is made of percentiles of seeded draws. Fewer than 3 missed cases drawn: sensitivity
 * has an interval and no point. Where no pass was examined there is no sensitivity, specificity or
 * negative predictive value: the reason is given, beside the positive predictive value, the yield and
 * the bounds. Other methods (variance by the delta method, Zhou) always give a point. Coverage by
 * simulation is in the room's README.
 *
 * Children are taken as independent: with sites above them take `correctByDecision`, from rows.
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
  options = formerNames(caller, options, "draws");
  const { method = "draws", level = 0.95, seed = 1, replicates = 10000 } = options;
  requireLevel(caller, level);
  requireWord(caller, "method", ["draws", "logit", "symmetric", "jeffreys"], method);
  requireCount(caller, "replicates", replicates);
  const strata = verificationStrata(caller, counts);
  const known = knownCounts(strata);
  const pooled = pooledStratum(strata);
  const cells = strata.flatMap((stratum, at) =>
    cellsOf(stratum, strata.length === 1 ? "" : `stratum ${at + 1}`),
  );
  if (method === "draws") {
    const n = pooled.positives + pooled.negatives;
    return correctCells(
      {
        kind: "verification-cells",
        n,
        cells,
        counts: known,
        knownOnly: pooled.foundMeanwhile,
        excluded: 0,
        rowsPerChild: 1,
      },
      { level, seed, replicates },
    );
  }
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
      ? cellDraws(
          ratedCells(cells),
          {
            seed,
            replicates: Math.max(1, replicates),
            level,
            sizePrior: 0.5,
            rates: "jeffreys",
            rowsPerChild: 1,
          },
          correctedMeasures,
        )
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
    examined: {
      testPositive: known.verified.truePositive + known.verified.falsePositive,
      testNegative: known.verified.falseNegative + known.verified.trueNegative,
    },
    unexamined: known.unverified,
    cells,
    knownOnly: pooled.foundMeanwhile,
    drawnMisses: pooled.unverified.testNegative === 0 ? null : pooled.verified.falseNegative,
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
    naive: naiveRates(known.verified, level),
    bounds: boundsOfCounts(known),
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

/** A stratum as the two cells of a programme whose decision is the rule under study. */
function cellsOf(stratum: Stratum, group: string): VerificationCell[] {
  const { verified, foundMeanwhile } = stratum;
  const cell = (
    decision: "refer" | "pass",
    [n, examined]: readonly [number, number],
    name: keyof TwoByTwo,
    other: keyof TwoByTwo,
  ) => ({
    recorded: decision,
    studied: decision,
    group,
    n,
    examined,
    cases: verified[name],
    knownOnly: foundMeanwhile[name] + foundMeanwhile[other],
    own: false,
  });
  return [
    cell("refer", [stratum.positives, stratum.examinedPositives], "truePositive", "falsePositive"),
    cell("pass", [stratum.negatives, stratum.examinedNegatives], "falseNegative", "trueNegative"),
  ];
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
