import { normalQuantile, riskRatioScore, type TwoSamples } from "../inference/index.js";
import {
  type Estimate,
  type TwoByTwo,
  type Undefined,
  undefinedBecause,
} from "../results/index.js";
import { logitRatio } from "./logitRatio.js";
import { shareAtOdds } from "./shareAtOdds.js";

/** "logit": Mercaldo, Lau and Zhou 2007; "score": from Koopman's interval of the likelihood ratio. */
export type PredictiveMethod = "logit" | "score";

/**
 * Positive predictive value at a stated prevalence. The logit interval has no width to offer when
 * a cell of its likelihood ratio is 0; the score interval is used then, and labelled.
 */
export function positivePredictiveAt(
  table: TwoByTwo,
  prevalence: number,
  method: PredictiveMethod,
  level: number,
): Estimate | Undefined {
  return atOdds(positiveRatio(table, method, level), prevalence / (1 - prevalence));
}

/** Negative predictive value at a stated prevalence, likewise. */
export function negativePredictiveAt(
  table: TwoByTwo,
  prevalence: number,
  method: PredictiveMethod,
  level: number,
): Estimate | Undefined {
  return atOdds(negativeRatio(table, method, level), (1 - prevalence) / prevalence);
}

/**
 * The ratio that prior odds are multiplied by, with its interval: sensitivity / (1 - specificity)
 * for a positive result. An infinite ratio has `value` and `high` of `Infinity`; these are no
 * results but factors on their way to a share.
 */
interface OddsRatioFactor {
  readonly kind: "factor";
  readonly value: number;
  readonly low: number;
  readonly high: number;
  readonly level: number;
  readonly method: string;
}

/** Factor of a positive result. */
export function positiveRatio(
  { truePositive, falsePositive, falseNegative, trueNegative }: TwoByTwo,
  method: PredictiveMethod,
  level: number,
): OddsRatioFactor | Undefined {
  const n1 = truePositive + falseNegative;
  const n2 = falsePositive + trueNegative;
  return ratioFactor({ x1: truePositive, n1, x2: falsePositive, n2 }, method, level);
}

/** Factor of a negative result, on the odds of not having the condition. */
export function negativeRatio(
  { truePositive, falsePositive, falseNegative, trueNegative }: TwoByTwo,
  method: PredictiveMethod,
  level: number,
): OddsRatioFactor | Undefined {
  const n1 = falsePositive + trueNegative;
  const n2 = truePositive + falseNegative;
  return ratioFactor({ x1: trueNegative, n1, x2: falseNegative, n2 }, method, level);
}

function ratioFactor(
  counts: TwoSamples,
  method: PredictiveMethod,
  level: number,
): OddsRatioFactor | Undefined {
  const { x1, n1, x2, n2 } = counts;
  if (n1 === 0 || n2 === 0) return undefinedBecause("needs rows with and without the condition");
  const factor = (value: number, low: number, high: number, used: string) =>
    ({ kind: "factor", value, low, high, level, method: used }) as const;
  if (method === "logit" && x1 > 0 && x2 > 0) {
    const found = logitRatio(x1, n1, x2, n2, normalQuantile(1 - (1 - level) / 2));
    return factor(found.value, found.low, found.high, method);
  }
  const ratio = riskRatioScore(counts, level);
  if (ratio.kind === "estimate") {
    return factor(x1 === 0 ? 0 : ratio.value, x1 === 0 ? 0 : ratio.low, ratio.high, "score");
  }
  if (ratio.low === undefined) return undefinedBecause("0 divided by 0: no such test result");
  return factor(Number.POSITIVE_INFINITY, ratio.low, Number.POSITIVE_INFINITY, "score");
}

function atOdds(ratio: OddsRatioFactor | Undefined, odds: number): Estimate | Undefined {
  if (ratio.kind === "undefined") return ratio;
  const { value, low, high, level, method } = ratio;
  return {
    kind: "estimate",
    value: shareAtOdds(value, odds),
    low: shareAtOdds(low, odds),
    high: shareAtOdds(high, odds),
    level,
    method,
  };
}
