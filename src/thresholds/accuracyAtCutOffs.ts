import { proportionInterval } from "../inference/index.js";
import { type Estimate, InputError, type TwoByTwo, type Undefined } from "../results/index.js";
import type { RocCurve } from "./rocCurve.js";

/** A cross at every cut-off of a curve. */
export interface AccuracyAtCutOffs {
  readonly kind: "accuracy-at-cut-offs";
  readonly n: number;
  readonly level: number;
  readonly method: "wilson";
  /** In the order of the curve, from referring nobody on. */
  readonly points: readonly CutOffCross[];
}

/** A cross: two intervals at one fixed cut-off. */
export interface CutOffCross {
  readonly cutOff: number | null;
  readonly words: string;
  readonly sensitivity: Estimate | Undefined;
  readonly specificity: Estimate | Undefined;
  readonly table: TwoByTwo;
  /** Of 1,000 rows like these; of a sample enriched with the condition this holds for no population. */
  readonly per1000: {
    readonly referred: number;
    /** Referred with the condition. */
    readonly found: number;
    /** Passed with the condition. */
    readonly missed: number;
  };
}

/**
 * Sensitivity and specificity at each cut-off, each with its Wilson interval: a cross in the plane of
 * the curve, for a cut-off fixed in advance; with the 2x2 table there and what it is of 1,000 rows. Not a band around the curve: for sensitivity at a fixed
 * false-positive rate see `sensitivityAtRates`. For independent rows.
 *
 * Rates are proportions, 0 to 1.
 *
 * @throws on a weighted curve
 *
 * @example
 * accuracyAtCutOffs(rocCurve({ values: [1, 2, 3, 4], condition: [0, 1, 0, 1] }, { positiveWhen: "high" })).points[1].sensitivity.low // => 0.0945
 */
export function accuracyAtCutOffs(
  curve: RocCurve,
  options: { readonly level?: number } = {},
): AccuracyAtCutOffs {
  if (curve.weighted) {
    throw new InputError("accuracyAtCutOffs requires a curve of counts, got one of weights");
  }
  const { level = 0.95 } = options;
  const share = (successes: number, trials: number) =>
    proportionInterval({ successes, trials }, { level });
  return {
    kind: "accuracy-at-cut-offs",
    n: curve.n,
    level,
    method: "wilson",
    points: curve.points.map(
      ({ cutOff, words, truePositive, falsePositive, falseNegative, trueNegative }) => ({
        cutOff,
        words,
        sensitivity: share(truePositive, curve.withCondition),
        specificity: share(trueNegative, curve.withoutCondition),
        table: { truePositive, falsePositive, falseNegative, trueNegative },
        per1000: {
          referred: (1000 * (truePositive + falsePositive)) / curve.n,
          found: (1000 * truePositive) / curve.n,
          missed: (1000 * falseNegative) / curve.n,
        },
      }),
    ),
  };
}
