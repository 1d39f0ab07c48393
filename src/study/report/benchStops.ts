import { accuracyFromCounts, negativeRatio, positiveRatio } from "../../accuracy/index.js";
import type { Protocol, ProtocolLimit } from "../../protocol/index.js";
import type { Estimate, TwoByTwo, Undefined } from "../../results/index.js";
import {
  directionOf,
  isStrict,
  limitAt,
  limitWords,
  meets,
  printSigns,
  toThousandths,
} from "../../rows/index.js";
import type { OperatingPoint } from "../../thresholds/index.js";
import { referralLimit } from "../run/referralLimit.js";
import type { ConditionResult } from "../run/studyResult.js";
import { correctedChoices } from "./correctedChoices.js";

/** Value, low and high; null with the reason where there is no estimate. */
export type Triple =
  | {
      readonly value: number;
      readonly low: number;
      readonly high: number;
      readonly reason?: undefined;
    }
  | { readonly value: null; readonly reason: string };

/** One place where the limit can stand, with everything the page shows there. */
export interface BenchStop {
  /** Null for a limit fixed in advance at which no reading lies. */
  readonly cutOff: number | null;
  /** Where it stands on the scale of the slider, in dioptres. */
  readonly limit: number;
  /** The decision in words, such as "≤ −3.00 D". */
  readonly words: string;
  readonly prespecified: boolean;
  /** Where the run chose this limit: what it corrected there, in words. */
  readonly corrected: string | null;
  readonly table: TwoByTwo;
  /** Where the point stands on the curve's plane: by the corrected rates where there are some. */
  readonly point: { readonly sensitivity: number; readonly specificity: number } | null;
  readonly sensitivity: Triple;
  readonly specificity: Triple;
  readonly positivePredictiveValue: Triple;
  readonly negativePredictiveValue: Triple;
  /** Factors on prior odds, so that predictive values follow at any prevalence. */
  readonly positiveRatio: Triple;
  readonly negativeRatio: Triple;
}

/**
 * The stops of the threshold bench, from the strictest limit to the most lenient, each with the
 * estimates of `accuracyFromCounts`, or where passes were examined in part those corrected for who was
 * examined, beside the counts of the examined.
 */
export function benchStops(condition: ConditionResult, protocol: Protocol): BenchStop[] {
  const limit = referralLimit(protocol, condition.id);
  if (condition.curve.kind === "undefined" || limit === null) return [];
  const choices = correctedChoices(condition);
  const rows = withPrespecified(condition.curve.points, limit).map((row) => {
    const own = choices.filter(({ cutOff }) => cutOff !== null && cutOff === row.cutOff);
    const words = own.map(
      ({ among, performance }) => `The run chose this limit${among}. ${performance}`,
    );
    return { ...row, corrected: words.length === 0 ? null : words.join(" ") };
  });
  return rows.map((row) => stopOf(row, protocol, condition));
}

interface Row {
  /** Null for a limit fixed in advance at which no reading lies. */
  readonly cutOff: number | null;
  readonly limit: number;
  readonly words: string;
  readonly prespecified: boolean;
  readonly corrected: string | null;
  readonly table: TwoByTwo;
}

/** Every operating point as a row; the pre-specified limit joins where no reading stands for it. */
function withPrespecified(
  points: readonly OperatingPoint[],
  referWhen: ProtocolLimit,
): Omit<Row, "corrected">[] {
  const { limit } = referWhen;
  const positiveWhen = directionOf(referWhen);
  const rows: Omit<Row, "corrected">[] = [];
  for (const point of points) {
    if (point.cutOff === null) continue;
    rows.push({
      cutOff: point.cutOff,
      limit: point.cutOff,
      words: printSigns(limitWords(limitAt(point.cutOff, positiveWhen))),
      prespecified: !isStrict(referWhen) && toThousandths(point.cutOff) === toThousandths(limit),
      table: countsAt(point),
    });
  }
  if (!rows.some(({ prespecified }) => prespecified)) {
    const beyond = points.filter(
      ({ cutOff }) => cutOff !== null && meets(cutOff, referWhen),
    ).length;
    rows.splice(beyond, 0, {
      cutOff: null,
      limit,
      words: printSigns(limitWords({ ...referWhen, quantity: undefined })),
      prespecified: true,
      table: countsAt(points[beyond]),
    });
  }
  return rows;
}

function countsAt(point: OperatingPoint): TwoByTwo {
  const { truePositive, falsePositive, falseNegative, trueNegative } = point;
  return { truePositive, falsePositive, falseNegative, trueNegative };
}

function stopOf(row: Row, protocol: Protocol, condition: ConditionResult): BenchStop {
  const { table } = row;
  const { level, verification, sampling } = protocol;
  if (condition.verification !== null) return { ...row, ...correctedStop(row, condition) };
  const accuracy = accuracyFromCounts(table, { level, verification, sampling });
  const { truePositive, falsePositive, falseNegative, trueNegative } = table;
  return {
    ...row,
    point: {
      sensitivity: truePositive / (truePositive + falseNegative),
      specificity: trueNegative / (trueNegative + falsePositive),
    },
    sensitivity: triple(accuracy.sensitivity),
    specificity: triple(accuracy.specificity),
    positivePredictiveValue: triple(accuracy.positivePredictiveValue),
    negativePredictiveValue: triple(accuracy.negativePredictiveValue),
    positiveRatio: triple(positiveRatio(table, "logit", level)),
    negativeRatio: triple(negativeRatio(table, "logit", level)),
  };
}

/** A stop by the corrected rates; ratios from the extremes of both, which is conservative. */
function correctedStop(
  { cutOff, prespecified }: Row,
  { verification, atStops }: ConditionResult,
): Omit<BenchStop, keyof Row> {
  const rates = prespecified
    ? verification!.corrected
    : (atStops?.find((stop) => stop.cutOff === cutOff) ?? verification!.corrected);
  const { sensitivity, specificity } = rates;
  const both =
    sensitivity.kind === "estimate" &&
    specificity.kind === "estimate" &&
    sensitivity.value + 1 - specificity.value > 0 &&
    specificity.value + 1 - sensitivity.value > 0;
  const missing: Triple = {
    value: null,
    reason:
      [sensitivity, specificity].flatMap((one) =>
        one.kind === "undefined" ? [one.reason] : [],
      )[0] ?? "0 divided by 0: no such result",
  };
  return {
    point: both ? { sensitivity: sensitivity.value, specificity: specificity.value } : null,
    sensitivity: triple(sensitivity),
    specificity: triple(specificity),
    positivePredictiveValue: triple(rates.positivePredictiveValue),
    negativePredictiveValue: triple(rates.negativePredictiveValue),
    positiveRatio: both
      ? {
          value: finite(sensitivity.value / (1 - specificity.value)),
          low: finite(sensitivity.low / (1 - specificity.low)),
          high: finite(sensitivity.high / (1 - specificity.high)),
        }
      : missing,
    // odds of not having it: (specificity) over (1 - sensitivity), as `negativeRatio` has it
    negativeRatio: both
      ? {
          value: finite(specificity.value / (1 - sensitivity.value)),
          low: finite(specificity.low / (1 - sensitivity.low)),
          high: finite(specificity.high / (1 - sensitivity.high)),
        }
      : missing,
  };
}

/** JSON has no infinity: 1e300 stands for it, and gives the share 1. */
const finite = (ratio: number): number => (ratio > 1e300 ? 1e300 : ratio || 0);

function triple(estimate: Estimate | Undefined | ReturnType<typeof positiveRatio>): Triple {
  if (estimate.kind === "undefined") return { value: null, reason: estimate.reason };
  const [value, low, high] = [estimate.value, estimate.low, estimate.high].map(finite);
  return { value, low, high };
}
