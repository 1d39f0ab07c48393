import {
  type Accuracy,
  accuracyFromCounts,
  type ClusteredAccuracy,
  clusteredAccuracy,
  type Sampling,
  type Verification,
} from "../accuracy/index.js";
import { caution, InputError } from "../results/index.js";
import {
  type Condition,
  type PositiveWhen,
  requireCondition,
  requireDirection,
  requireValues,
} from "./classRows.js";
import { clusterRows } from "./clusters.js";
import { decisionText } from "./cutOffDistribution.js";

export interface ThresholdValidation {
  readonly kind: "thresholdValidation";
  /** Says that the cut-off was not chosen on these rows. */
  readonly label: string;
  readonly n: number;
  /** Number of children, where subjects were given. */
  readonly subjects?: number;
  readonly positiveWhen: PositiveWhen;
  readonly cutOff: number;
  readonly decision: string;
  readonly accuracy: Accuracy | ClusteredAccuracy;
  readonly level: number;
  readonly caution: string;
}

/**
 * Accuracy of a cut-off that was fixed before these rows were seen.
 *
 * A row is referred when its value is >= the cut-off (`positiveWhen: "high"`) or <= it ("low").
 * Intervals are those of `accuracyFromCounts` for independent rows and of `clusteredAccuracy` where
 * `subjects` repeat. The intervals hold only if the cut-off was not chosen on these rows; a chosen
 * one belongs to `chooseThreshold`.
 *
 * @throws when the cut-off is not finite, a value is not finite, or a condition neither yes nor no
 *
 * @example
 * validateThreshold({ values: [-4, -3, -1, 0, -3.5], condition: [1, 1, 0, 0, 0] }, { positiveWhen: "low", cutOff: -3 }).accuracy.specificity.value // => 0.6667
 */
export function validateThreshold(
  data: {
    readonly values: ArrayLike<number>;
    readonly condition: Condition;
    readonly subjects?: ArrayLike<string | number>;
  },
  options: {
    readonly positiveWhen: PositiveWhen;
    readonly cutOff: number;
    readonly level?: number;
    readonly verification?: Verification;
    readonly sampling?: Sampling;
    readonly prevalence?: number;
  },
): ThresholdValidation {
  const caller = "validateThreshold";
  const { positiveWhen, cutOff, level = 0.95, verification, sampling, prevalence } = options;
  requireDirection(caller, positiveWhen);
  if (!Number.isFinite(cutOff)) {
    throw new InputError(`${caller} requires a finite cutOff, got ${cutOff}`);
  }
  const codes = requireCondition(caller, data.condition);
  requireValues(caller, "values", data.values, codes.length);
  const test = Uint8Array.from(codes, (_, row) =>
    (positiveWhen === "high" ? data.values[row] >= cutOff : data.values[row] <= cutOff) ? 1 : 0,
  );
  const design = { level, verification, sampling, prevalence };
  const clusters =
    data.subjects === undefined ? null : clusterRows(caller, data.subjects, codes.length);
  const accuracy =
    data.subjects !== undefined && clusters?.repeated
      ? clusteredAccuracy({ test, reference: codes, subjects: data.subjects }, design)
      : accuracyFromCounts(tableOf(test, codes), design);
  return {
    kind: "thresholdValidation",
    label: "cut-off fixed in advance; not chosen on these rows",
    n: codes.length,
    ...(clusters === null ? {} : { subjects: clusters.count }),
    positiveWhen,
    cutOff,
    decision: decisionText(cutOff, positiveWhen),
    accuracy,
    level,
    caution,
  };
}

function tableOf(test: Uint8Array, codes: Uint8Array) {
  const counts = [0, 0, 0, 0];
  for (let row = 0; row < codes.length; row++) counts[2 * codes[row] + test[row]]++;
  const [trueNegative, falsePositive, falseNegative, truePositive] = counts;
  return { truePositive, falsePositive, falseNegative, trueNegative };
}
