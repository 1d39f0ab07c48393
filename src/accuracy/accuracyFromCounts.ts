import type { ProportionMethod } from "../inference/index.js";
import { requireLevel } from "../inference/index.js";
import { formerNames, InputError, type TwoByTwo } from "../results/index.js";
import { type AccuracyMeasures, cohortMeasures, type RatioMethod } from "./accuracyMeasures.js";
import { type AccuracyDesign, designMeasures, type StatedDesign } from "./designMeasures.js";
import { negativePredictiveAt, positivePredictiveAt } from "./predictiveAtPrevalence.js";
import { requireTable, requireWord } from "./requireTable.js";

/** The ten measures with what made them. */
export interface Accuracy extends AccuracyMeasures, StatedDesign {
  readonly kind: "accuracy";
  readonly table: TwoByTwo;
  readonly n: number;
  readonly level: number;
  readonly method: string;
}

export interface AccuracyOptions extends AccuracyDesign {
  /** 0.95 by default. */
  readonly level?: number;
  /** Interval of the proportions, "wilson" by default. */
  readonly interval?: ProportionMethod;
  /** Interval of likelihood and odds ratios, "score" by default; "log" needs cells above 0. */
  readonly ratioInterval?: RatioMethod;
}

/**
 * Accuracy of a yes/no test from its four counts, for independent rows (one a child, or one eye of
 * each; two eyes of a child need `clusteredAccuracy`).
 *
 * Proportions by `interval` (Wilson 1927); likelihood ratios by the score interval of Koopman 1984
 * and the odds ratio by that of Cornfield 1956, both good with zero cells; the Youden index by
 * square-and-add; predictive values at a stated prevalence by Mercaldo, Lau and Zhou 2007.
 * The design decides what can be estimated: an enriched sample gives no predictive value, prevalence
 * or referral rate without a stated prevalence; partial verification gives the predictive values and
 * the odds ratio of the examined (see `correctVerification`); without any examined pass only the
 * positive predictive value is left. What cannot be estimated is `Undefined` with the reason.
 *
 * Rates are proportions, 0 to 1.
 *
 * @throws when a count is negative or not whole, an option is not one of its words, or passes are
 * counted although `verification` is "none"
 *
 * @example
 * accuracyFromCounts({ truePositive: 389, falsePositive: 92, falseNegative: 15, trueNegative: 575 }).sensitivity.low // => 0.9397
 */
export function accuracyFromCounts(table: TwoByTwo, options: AccuracyOptions = {}): Accuracy {
  const caller = "accuracyFromCounts";
  options = formerNames(caller, options, "interval", "ratio");
  const { level = 0.95, interval = "wilson", ratioInterval = "score" } = options;
  requireTable(caller, table);
  requireLevel(caller, level);
  requireWord(caller, "ratioInterval", ["score", "log"], ratioInterval);
  const { truePositive, falsePositive, falseNegative, trueNegative } = table;
  if (options.verification === "none" && falseNegative + trueNegative > 0) {
    throw new InputError(
      `${caller} requires no examined negatives when verification is "none", got ${falseNegative + trueNegative}`,
    );
  }
  const measures = cohortMeasures(table, interval, ratioInterval, level);
  return {
    kind: "accuracy",
    table: { truePositive, falsePositive, falseNegative, trueNegative },
    n: truePositive + falsePositive + falseNegative + trueNegative,
    level,
    method: interval,
    ...designMeasures(caller, measures, { ...options, level }, (prevalence) => ({
      positivePredictiveValue: positivePredictiveAt(table, prevalence, "logit", level),
      negativePredictiveValue: negativePredictiveAt(table, prevalence, "logit", level),
    })),
  };
}
