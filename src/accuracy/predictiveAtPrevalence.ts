import { normalQuantile } from "../inference/distributions.js";
import { riskRatioScore, type TwoSamples } from "../inference/riskRatioInterval.js";
import {
  type Estimate,
  type TwoByTwo,
  type Undefined,
  undefinedBecause,
} from "../results/index.js";

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
  const { truePositive, falsePositive, falseNegative, trueNegative } = table;
  return predictive(
    {
      x1: truePositive,
      n1: truePositive + falseNegative,
      x2: falsePositive,
      n2: falsePositive + trueNegative,
    },
    prevalence / (1 - prevalence),
    method,
    level,
  );
}

/** Negative predictive value at a stated prevalence, likewise. */
export function negativePredictiveAt(
  table: TwoByTwo,
  prevalence: number,
  method: PredictiveMethod,
  level: number,
): Estimate | Undefined {
  const { truePositive, falsePositive, falseNegative, trueNegative } = table;
  return predictive(
    {
      x1: trueNegative,
      n1: falsePositive + trueNegative,
      x2: falseNegative,
      n2: truePositive + falseNegative,
    },
    (1 - prevalence) / prevalence,
    method,
    level,
  );
}

/** Share r·odds / (1 + r·odds), r the ratio of two proportions. */
function predictive(
  counts: TwoSamples,
  priorOdds: number,
  method: PredictiveMethod,
  level: number,
): Estimate | Undefined {
  const { x1, n1, x2, n2 } = counts;
  if (n1 === 0 || n2 === 0) return undefinedBecause("needs rows with and without the condition");
  const share = (ratio: number) => 1 / (1 + 1 / (ratio * priorOdds));
  if (method === "logit" && x1 > 0 && x2 > 0) {
    const value = share(x1 / n1 / (x2 / n2));
    const logit = Math.log(x1 / n1 / (x2 / n2)) + Math.log(priorOdds);
    const spread =
      normalQuantile(1 - (1 - level) / 2) * Math.sqrt(1 / x1 - 1 / n1 + 1 / x2 - 1 / n2);
    const at = (l: number) => 1 / (1 + Math.exp(-l));
    return {
      kind: "estimate",
      value,
      low: at(logit - spread),
      high: at(logit + spread),
      level,
      method,
    };
  }
  const ratio = riskRatioScore(counts, level);
  if (ratio.kind === "estimate") {
    return {
      kind: "estimate",
      value: x1 === 0 ? 0 : share(ratio.value),
      low: x1 === 0 ? 0 : share(ratio.low),
      high: share(ratio.high),
      level,
      method: "score",
    };
  }
  if (ratio.low === undefined) return undefinedBecause("0 divided by 0: no such test result");
  return { kind: "estimate", value: 1, low: share(ratio.low), high: 1, level, method: "score" };
}
