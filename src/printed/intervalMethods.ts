import { negativePredictiveAt, positivePredictiveAt, youdenInterval } from "../accuracy/index.js";
import {
  normalQuantile,
  oddsRatioLog,
  oddsRatioScore,
  type ProportionMethod,
  proportionInterval,
  riskRatioLog,
  riskRatioScore,
} from "../inference/index.js";
import type { Estimate, TwoByTwo, Undefined } from "../results/index.js";
import { isShare, type PrintedMeasure, shareCounts } from "./printedMeasures.js";
import type { ShareMeasure } from "./tableSearch.js";

/** An interval that papers print, by name. */
export type IntervalMethod =
  | ProportionMethod
  | "logit"
  | "log"
  | "mercaldo-logit"
  | "score"
  | "mover-wilson"
  | "mover-clopper-pearson"
  | "wald-difference";

interface Limits {
  readonly low: number;
  readonly high: number;
}

type Interval = (table: TwoByTwo, level: number) => Limits | undefined;

const proportionMethods: readonly ProportionMethod[] = [
  "clopper-pearson",
  "wilson",
  "wilson-cc",
  "agresti-coull",
  "jeffreys",
  "wald",
];

/** Every interval that the toolkit knows for a measure, undefined where it has no limits. */
export function intervalMethodsOf(measure: PrintedMeasure): ReadonlyMap<IntervalMethod, Interval> {
  return new Map<IntervalMethod, Interval>(
    isShare(measure) ? shareIntervals(measure) : ratioIntervals[measure],
  );
}

function shareIntervals(measure: ShareMeasure): [IntervalMethod, Interval][] {
  const counts = shareCounts[measure];
  const methods = proportionMethods.map((method): [IntervalMethod, Interval] => [
    method,
    (table, level) => {
      const [successes, trials] = counts(table);
      return limitsOf(proportionInterval({ successes, trials }, { interval: method, level }));
    },
  ]);
  methods.push(
    ["logit", (table, level) => logitLimits(...counts(table), level)],
    ["log", (table, level) => logLimits(...counts(table), level)],
  );
  if (measure === "positivePredictiveValue") {
    methods.push(["mercaldo-logit", atOwnPrevalence(positivePredictiveAt)]);
  }
  if (measure === "negativePredictiveValue") {
    methods.push(["mercaldo-logit", atOwnPrevalence(negativePredictiveAt)]);
  }
  return methods;
}

const ratioIntervals: Readonly<
  Record<Exclude<PrintedMeasure, ShareMeasure>, [IntervalMethod, Interval][]>
> = {
  positiveLikelihoodRatio: [
    ["score", (table, level) => limitsOf(riskRatioScore(positives(table), level))],
    ["log", (table, level) => limitsOf(riskRatioLog(positives(table), level))],
  ],
  negativeLikelihoodRatio: [
    ["score", (table, level) => limitsOf(riskRatioScore(negatives(table), level))],
    ["log", (table, level) => limitsOf(riskRatioLog(negatives(table), level))],
  ],
  diagnosticOddsRatio: [
    ["score", (table, level) => limitsOf(oddsRatioScore(positives(table), level))],
    ["log", (table, level) => limitsOf(oddsRatioLog(positives(table), level))],
  ],
  youdenIndex: [
    ["mover-wilson", (table, level) => limitsOf(youdenInterval(table, "wilson", level))],
    [
      "mover-clopper-pearson",
      (table, level) => limitsOf(youdenInterval(table, "clopper-pearson", level)),
    ],
    ["wald-difference", (table, level) => waldDifference(table, level)],
  ],
};

const positives = (t: TwoByTwo) => ({
  x1: t.truePositive,
  n1: t.truePositive + t.falseNegative,
  x2: t.falsePositive,
  n2: t.falsePositive + t.trueNegative,
});

const negatives = (t: TwoByTwo) => ({
  x1: t.falseNegative,
  n1: t.truePositive + t.falseNegative,
  x2: t.trueNegative,
  n2: t.falsePositive + t.trueNegative,
});

function limitsOf(estimate: Estimate | Undefined): Limits | undefined {
  return estimate.kind === "estimate" ? { low: estimate.low, high: estimate.high } : undefined;
}

const z = (level: number) => normalQuantile(1 - (1 - level) / 2);

/** Symmetric about the logit; no limits at 0 and 1. */
function logitLimits(part: number, total: number, level: number): Limits | undefined {
  if (part === 0 || part === total) return undefined;
  const centre = Math.log(part / (total - part));
  const reach = z(level) * Math.sqrt(1 / part + 1 / (total - part));
  const share = (logit: number) => 1 / (1 + Math.exp(-logit));
  return { low: share(centre - reach), high: share(centre + reach) };
}

/** Symmetric about the logarithm of the share, cut at 1; no limits at 0. */
function logLimits(part: number, total: number, level: number): Limits | undefined {
  if (part === 0) return undefined;
  const share = part / total;
  const reach = Math.exp(z(level) * Math.sqrt((1 - share) / part));
  return { low: share / reach, high: Math.min(1, share * reach) };
}

/** Mercaldo, Lau and Zhou 2007 with the table's own prevalence taken as known. */
function atOwnPrevalence(predictive: typeof positivePredictiveAt): Interval {
  return (table, level) => {
    const withCondition = table.truePositive + table.falseNegative;
    const n = withCondition + table.falsePositive + table.trueNegative;
    if (withCondition === 0 || withCondition === n) return undefined;
    // one column of the test alone says nothing of sensitivity and specificity
    const positive = table.truePositive + table.falsePositive;
    if (positive === 0 || positive === n) return undefined;
    const estimate = predictive(table, withCondition / n, "logit", level);
    return estimate.kind === "estimate" && estimate.method === "logit"
      ? limitsOf(estimate)
      : undefined;
  };
}

function waldDifference(table: TwoByTwo, level: number): Limits | undefined {
  const { x1, n1, x2, n2 } = positives(table);
  if (n1 === 0 || n2 === 0) return undefined;
  const [one, other] = [x1 / n1, x2 / n2];
  const reach = z(level) * Math.sqrt((one * (1 - one)) / n1 + (other * (1 - other)) / n2);
  return { low: one - other - reach, high: one - other + reach };
}
