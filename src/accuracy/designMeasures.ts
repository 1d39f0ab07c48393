import { moverSum } from "../inference/index.js";
import { type Estimate, type Undefined, undefinedBecause } from "../results/index.js";
import type { AccuracyMeasures } from "./accuracyMeasures.js";
import { requireShare, requireWord } from "./requireTable.js";

/** Who was examined: everyone, everyone positive and a part of the negatives, or only positives. */
export type Verification = "complete" | "partial" | "none";
/** Rows as they came, or chosen by their condition. */
export type Sampling = "cohort" | "enriched";

/** What decides which measures the counts can give. */
export interface AccuracyDesign {
  /** "complete" by default. */
  readonly verification?: Verification;
  /** "cohort" by default. */
  readonly sampling?: Sampling;
  /** Gives predictive values at this prevalence instead of the sample's own. */
  readonly prevalence?: number;
}

/** The design as used, with what the reader must know. */
export interface StatedDesign {
  readonly verification: Verification;
  readonly sampling: Sampling;
  /** The prevalence at which predictive values are given, where one was stated. */
  readonly statedPrevalence: number | null;
  readonly notes: readonly string[];
}

/**
 * Withholds what the design cannot give. `at` makes the two predictive values at a prevalence.
 */
export function designMeasures(
  caller: string,
  measures: AccuracyMeasures,
  options: AccuracyDesign & { readonly level: number },
  at: (
    prevalence: number,
  ) => Pick<AccuracyMeasures, "positivePredictiveValue" | "negativePredictiveValue">,
): AccuracyMeasures & StatedDesign {
  const { verification = "complete", sampling = "cohort", prevalence, level } = options;
  requireWord(caller, "verification", ["complete", "partial", "none"], verification);
  requireWord(caller, "sampling", ["cohort", "enriched"], sampling);
  if (prevalence !== undefined) requireShare(caller, "prevalence", prevalence);
  const sampled = sampling === "enriched" ? enriched(measures, prevalence, level) : measures;
  const stated = prevalence === undefined ? sampled : { ...sampled, ...at(prevalence) };
  return {
    ...(verification === "complete"
      ? stated
      : unexamined(stated, measures, verification, sampling)),
    verification,
    sampling,
    statedPrevalence: prevalence ?? null,
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
      : "passes were examined only in part: the counts of the examined are biased; corrected for who was examined they stand apart",
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
