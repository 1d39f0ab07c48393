import { proportionInterval } from "../inference/index.js";
import { type Estimate, InputError, type Undefined } from "../results/index.js";
import type { RocCurve } from "./rocCurve.js";

/** A cross: two intervals at one fixed cut-off. */
export interface CutOffCross {
  readonly cutOff: number | null;
  readonly decision: string;
  readonly sensitivity: Estimate | Undefined;
  readonly specificity: Estimate | Undefined;
}

/**
 * Sensitivity and specificity at each cut-off, each with its Wilson interval: a cross in the plane of
 * the curve, for a cut-off fixed in advance. Not a band around the curve: for sensitivity at a fixed
 * false-positive rate see `sensitivityAtRates`. For independent rows.
 *
 * Rates are proportions, 0 to 1.
 *
 * @throws on a weighted curve
 *
 * @example
 * accuracyAtCutOffs(rocCurve({ values: [1, 2, 3, 4], condition: [0, 1, 0, 1] }, { positiveWhen: "high" }))[1].sensitivity.low // => 0.0945
 */
export function accuracyAtCutOffs(
  curve: RocCurve,
  options: { readonly level?: number } = {},
): CutOffCross[] {
  if (curve.weighted) {
    throw new InputError("accuracyAtCutOffs requires a curve of counts, got one of weights");
  }
  const { level = 0.95 } = options;
  return curve.points.map((point) => ({
    cutOff: point.cutOff,
    decision: point.decision,
    sensitivity: proportionInterval(
      { successes: point.truePositive, trials: curve.withCondition },
      { level },
    ),
    specificity: proportionInterval(
      { successes: point.trueNegative, trials: curve.withoutCondition },
      { level },
    ),
  }));
}
