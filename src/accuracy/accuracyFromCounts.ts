import { moverSum } from "../inference/mover.js";
import type { ProportionMethod } from "../inference/proportionInterval.js";
import { requireLevel } from "../inference/requireLevel.js";
import {
  type Estimate,
  InputError,
  type TwoByTwo,
  type Undefined,
  undefinedBecause,
} from "../results/index.js";
import { type AccuracyMeasures, cohortMeasures, type RatioMethod } from "./accuracyMeasures.js";
import { negativePredictiveAt, positivePredictiveAt } from "./predictiveAtPrevalence.js";
import { requireShare, requireTable, requireWord } from "./requireTable.js";

/** Who was examined: everyone, everyone positive and a part of the negatives, or only positives. */
export type Verification = "complete" | "partial" | "none";
/** Rows as they came, or chosen by their condition. */
export type Sampling = "cohort" | "enriched";

/** The ten measures with what made them. */
export interface Accuracy extends AccuracyMeasures {
  readonly kind: "accuracy";
  readonly table: TwoByTwo;
  readonly n: number;
  readonly level: number;
  readonly method: string;
  readonly verification: Verification;
  readonly sampling: Sampling;
  /** The prevalence at which predictive values are given, where one was stated. */
  readonly statedPrevalence: number | null;
  /** What the reader must know beside the numbers. */
  readonly notes: readonly string[];
}

export interface AccuracyOptions {
  /** 0.95 by default. */
  readonly level?: number;
  /** Interval of the proportions, "wilson" by default. */
  readonly method?: ProportionMethod;
  /** Interval of likelihood and odds ratios, "score" by default; "log" needs cells above 0. */
  readonly ratioMethod?: RatioMethod;
  /** "complete" by default. */
  readonly verification?: Verification;
  /** "cohort" by default. */
  readonly sampling?: Sampling;
  /** Gives predictive values at this prevalence instead of the sample's own. */
  readonly prevalence?: number;
}

/**
 * Accuracy of a yes/no test from its four counts, for independent rows (one a child, or one eye of
 * each; two eyes of a child need `clusteredAccuracy`).
 *
 * Proportions by `method` (Wilson 1927); likelihood ratios by the score interval of Koopman 1984
 * and the odds ratio by that of Cornfield 1956, both good with zero cells; the Youden index by
 * square-and-add; predictive values at a stated prevalence by Mercaldo, Lau and Zhou 2007.
 * The design decides what can be estimated: an enriched sample gives no predictive value, prevalence
 * or referral rate without a stated prevalence; partial verification gives the predictive values and
 * the odds ratio of the examined (see `correctVerification`); without any examined pass only the
 * positive predictive value is left. What cannot be estimated is `Undefined` with the reason.
 *
 * @throws when a count is negative or not whole, an option is not one of its words, or passes are
 * counted although `verification` is "none"
 *
 * @example
 * accuracyFromCounts({ truePositive: 389, falsePositive: 92, falseNegative: 15, trueNegative: 575 }).sensitivity.low // => 0.9397
 */
export function accuracyFromCounts(table: TwoByTwo, options: AccuracyOptions = {}): Accuracy {
  const caller = "accuracyFromCounts";
  const { level = 0.95, method = "wilson", ratioMethod = "score" } = options;
  const { verification = "complete", sampling = "cohort", prevalence } = options;
  requireTable(caller, table);
  requireLevel(caller, level);
  requireWord(caller, "ratioMethod", ["score", "log"], ratioMethod);
  requireWord(caller, "verification", ["complete", "partial", "none"], verification);
  requireWord(caller, "sampling", ["cohort", "enriched"], sampling);
  if (prevalence !== undefined) requireShare(caller, "prevalence", prevalence);
  const { truePositive, falsePositive, falseNegative, trueNegative } = table;
  if (verification === "none" && falseNegative + trueNegative > 0) {
    throw new InputError(
      `${caller} requires no examined negatives when verification is "none", got ${falseNegative + trueNegative}`,
    );
  }
  const measures = cohortMeasures(table, method, ratioMethod, level);
  const sampled = sampling === "enriched" ? enriched(measures, prevalence, level) : measures;
  const stated =
    prevalence === undefined
      ? sampled
      : {
          ...sampled,
          positivePredictiveValue: positivePredictiveAt(table, prevalence, "logit", level),
          negativePredictiveValue: negativePredictiveAt(table, prevalence, "logit", level),
        };
  return {
    kind: "accuracy",
    table: { truePositive, falsePositive, falseNegative, trueNegative },
    n: truePositive + falsePositive + falseNegative + trueNegative,
    level,
    method,
    verification,
    sampling,
    statedPrevalence: prevalence ?? null,
    ...(verification === "complete"
      ? stated
      : unexamined(stated, measures, verification, sampling)),
    notes: notesOn(verification, sampling, prevalence),
  };
}

/** What an enriched sample leaves: rates within each side of the condition. */
function enriched(
  measures: AccuracyMeasures,
  prevalence: number | undefined,
  level: number,
): AccuracyMeasures {
  const missing = undefinedBecause(
    "the sample was enriched: state a prevalence, it cannot be estimated here",
  );
  return {
    ...measures,
    positivePredictiveValue: missing,
    negativePredictiveValue: missing,
    prevalence: undefinedBecause("the sample was enriched: its prevalence is a choice"),
    referralRate: prevalence === undefined ? missing : referralRateAt(measures, prevalence, level),
  };
}

/** Referral rate at a prevalence: p Se + (1 - p)(1 - Sp), by square-and-add. */
function referralRateAt(
  { sensitivity, specificity }: AccuracyMeasures,
  prevalence: number,
  level: number,
): Estimate | Undefined {
  if (sensitivity.kind === "undefined") return sensitivity;
  if (specificity.kind === "undefined") return specificity;
  const rest = 1 - prevalence;
  const limits = moverSum(
    {
      value: prevalence * sensitivity.value,
      low: prevalence * sensitivity.low,
      high: prevalence * sensitivity.high,
    },
    {
      value: rest * (1 - specificity.value),
      low: rest * (1 - specificity.high),
      high: rest * (1 - specificity.low),
    },
  );
  return { kind: "estimate", ...limits, level, method: `mover-${sensitivity.method}` };
}

/** What is left when negatives were examined in part or not at all. */
function unexamined(
  stated: AccuracyMeasures,
  measures: AccuracyMeasures,
  verification: "partial" | "none",
  sampling: Sampling,
): AccuracyMeasures {
  const none = verification === "none";
  const missing = undefinedBecause(
    none
      ? "no child who passed was examined: the missed are unknown"
      : "passes were examined only in part: the counts of the examined are biased, see correctVerification",
  );
  const keep = <T>(estimate: T): T | Undefined => (sampling === "enriched" ? missing : estimate);
  return {
    ...stated,
    sensitivity: missing,
    specificity: missing,
    positiveLikelihoodRatio: missing,
    negativeLikelihoodRatio: missing,
    youdenIndex: missing,
    prevalence: missing,
    referralRate: missing,
    positivePredictiveValue: keep(measures.positivePredictiveValue),
    negativePredictiveValue: none ? missing : keep(measures.negativePredictiveValue),
    // the odds ratio does not change when rows are sampled by test result
    diagnosticOddsRatio: none ? missing : measures.diagnosticOddsRatio,
  };
}

function notesOn(
  verification: Verification,
  sampling: Sampling,
  prevalence: number | undefined,
): string[] {
  const notes: string[] = [];
  if (verification === "partial") {
    notes.push(
      "Predictive values and odds ratio are those of examined children; they hold for all only if " +
        "being examined depended on nothing but the test result.",
    );
  }
  if (verification === "none") {
    notes.push("Positive predictive value among the referred who were examined.");
  }
  if (sampling === "enriched") notes.push("Enriched sample: prevalence was chosen, not observed.");
  if (prevalence !== undefined && verification === "complete") {
    notes.push(`Predictive values are given at a stated prevalence of ${prevalence}.`);
  }
  return notes;
}
