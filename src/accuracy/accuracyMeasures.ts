import {
  moverSum,
  oddsRatioLog,
  oddsRatioScore,
  type ProportionMethod,
  proportionInterval,
  riskRatioLog,
  riskRatioScore,
} from "../inference/index.js";
import {
  type Estimate,
  type TwoByTwo,
  type Undefined,
  undefinedBecause,
} from "../results/index.js";

/** How often a referral is right, in ten numbers; proportions, not percentages. */
export interface AccuracyMeasures {
  /** Positive among those with the condition. */
  readonly sensitivity: Estimate | Undefined;
  /** Negative among those without the condition. */
  readonly specificity: Estimate | Undefined;
  /** With the condition among positives. */
  readonly positivePredictiveValue: Estimate | Undefined;
  /** Without the condition among negatives. */
  readonly negativePredictiveValue: Estimate | Undefined;
  /** Sensitivity / (1 - specificity). */
  readonly positiveLikelihoodRatio: Estimate | Undefined;
  /** (1 - sensitivity) / specificity. */
  readonly negativeLikelihoodRatio: Estimate | Undefined;
  readonly diagnosticOddsRatio: Estimate | Undefined;
  /** Sensitivity + specificity - 1. */
  readonly youdenIndex: Estimate | Undefined;
  readonly prevalence: Estimate | Undefined;
  readonly referralRate: Estimate | Undefined;
}

/** Interval of the two likelihood ratios and the odds ratio. */
export type RatioMethod = "score" | "log";

/** The ten measures of completely examined, independent rows drawn as a cohort. */
export function cohortMeasures(
  table: TwoByTwo,
  method: ProportionMethod,
  ratioInterval: RatioMethod,
  level: number,
): AccuracyMeasures {
  const { truePositive, falsePositive, falseNegative, trueNegative } = table;
  const withCondition = truePositive + falseNegative;
  const withoutCondition = falsePositive + trueNegative;
  const n = withCondition + withoutCondition;
  const share = (successes: number, trials: number, none: string) =>
    trials === 0
      ? undefinedBecause(none)
      : proportionInterval({ successes, trials }, { interval: method, level });
  const sensitivity = share(truePositive, withCondition, noneWith);
  const specificity = share(trueNegative, withoutCondition, noneWithout);
  const positives = {
    x1: truePositive,
    n1: withCondition,
    x2: falsePositive,
    n2: withoutCondition,
  };
  const negatives = {
    x1: falseNegative,
    n1: withCondition,
    x2: trueNegative,
    n2: withoutCondition,
  };
  const ratio = ratioInterval === "log" ? riskRatioLog : riskRatioScore;
  const odds = ratioInterval === "log" ? oddsRatioLog : oddsRatioScore;
  const oneSided =
    withCondition === 0 ? noneWith : withoutCondition === 0 ? noneWithout : undefined;
  const both = (estimate: () => Estimate | Undefined) =>
    oneSided === undefined ? estimate() : undefinedBecause(oneSided);
  return {
    sensitivity,
    specificity,
    positivePredictiveValue: share(truePositive, truePositive + falsePositive, "no positive test"),
    negativePredictiveValue: share(trueNegative, trueNegative + falseNegative, "no negative test"),
    positiveLikelihoodRatio: both(() => ratio(positives, level)),
    negativeLikelihoodRatio: both(() => ratio(negatives, level)),
    diagnosticOddsRatio: both(() => odds(positives, level)),
    youdenIndex: both(() =>
      youdenOfRates(sensitivity, specificity, { level, method: `mover-${method}` }),
    ),
    prevalence: share(withCondition, n, "no rows"),
    referralRate: share(truePositive + falsePositive, n, "no rows"),
  };
}

/** The Youden index of a table, by square-and-add. */
export function youdenInterval(
  table: TwoByTwo,
  method: ProportionMethod,
  level: number,
): Estimate | Undefined {
  const { truePositive, falsePositive, falseNegative, trueNegative } = table;
  const rate = (successes: number, failures: number) =>
    proportionInterval({ successes, trials: successes + failures }, { interval: method, level });
  return youdenOfRates(rate(truePositive, falseNegative), rate(trueNegative, falsePositive), {
    level,
    method: `mover-${method}`,
  });
}

/** Sensitivity plus specificity minus 1, by square-and-add of their intervals. */
export function youdenOfRates(
  sensitivity: Estimate | Undefined,
  specificity: Estimate | Undefined,
  options: { readonly level: number; readonly method: string; readonly correlation?: number },
): Estimate | Undefined {
  if (sensitivity.kind === "undefined") return sensitivity;
  if (specificity.kind === "undefined") return specificity;
  const { level, method, correlation } = options;
  const { value, low, high } = moverSum(sensitivity, specificity, correlation);
  return { kind: "estimate", value: value - 1, low: low - 1, high: high - 1, level, method };
}

const noneWith = "no row has the condition";
const noneWithout = "no row is without the condition";
