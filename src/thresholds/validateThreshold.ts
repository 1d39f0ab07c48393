import {
  type Accuracy,
  type AccuracyDesign,
  accuracyFromCounts,
  type ClusteredAccuracy,
  clusteredAccuracy,
  type Sampling,
  type Verification,
} from "../accuracy/index.js";
import { requireLevel } from "../inference/index.js";
import { caution, formerNames, InputError } from "../results/index.js";
import {
  childrenOf,
  conditionCodes,
  hasChildren,
  type PositiveWhen,
  reaches,
  requireDirection,
  requireDraws,
  requireNumbers,
} from "../rows/index.js";
import { decisionText } from "./cutOffDistribution.js";
import type { ThresholdRows } from "./prepareRows.js";
import { type WeightedAccuracy, weightedAccuracy } from "./weightedAccuracy.js";

/** Accuracy of a cut-off that was fixed in advance. */
export interface ThresholdValidation {
  readonly kind: "threshold-validation";
  /** Says that the cut-off was not chosen on these rows. */
  readonly label: string;
  readonly n: number;
  /** Number of children, where subjects were given. */
  readonly subjects?: number;
  readonly positiveWhen: PositiveWhen;
  readonly cutOff: number;
  readonly words: string;
  readonly accuracy: Accuracy | ClusteredAccuracy;
  readonly level: number;
  readonly caution: string;
}

/** The same from weighted rows. */
export interface WeightedThresholdValidation extends Omit<ThresholdValidation, "accuracy"> {
  readonly accuracy: WeightedAccuracy;
}

interface ValidationOptions {
  readonly positiveWhen: PositiveWhen;
  readonly cutOff: number;
  readonly level?: number;
}

/**
 * Accuracy of a cut-off that was fixed before these rows were seen.
 *
 * A row is referred when its value is >= the cut-off (`positiveWhen: "high"`) or <= it ("low").
 * Intervals are those of `accuracyFromCounts` for independent rows and of `clusteredAccuracy` where
 * `subjects` repeat, or `clusters` name sites. The intervals hold only if the cut-off was not chosen on these rows; a chosen
 * one belongs to `chooseThreshold`.
 *
 * With `weights` (inverse probabilities of examination, taken as known) or `examination` (estimated
 * from who was examined, anew in each resample) the rates are weighted and their intervals come from
 * a bootstrap of children, which needs a `seed`, or with `clusters: { subject, site }` from a
 * delete-one-site jackknife, which draws nothing; the weights then describe the design, so that
 * `sampling` and `prevalence` are not asked for. By counts of two strata, referred and passed, the
 * rates are those of `correctVerification`.
 *
 * Cut-offs are in the unit of the values; rates are proportions, 0 to 1.
 *
 * @throws when the cut-off is not finite, a value is not finite, a condition neither yes nor no, or
 * weighted rows lack a class, a seed, or an examined row in a stratum
 *
 * @example
 * validateThreshold({ values: [-4, -3, -1, 0, -3.5], condition: [1, 1, 0, 0, 0] }, { positiveWhen: "low", cutOff: -3 }).accuracy.specificity.value // => 0.6667
 *
 * @example
 * validateThreshold({ values: [1, 1, 1, 5, 1, 5, 5, 5], condition: [0, 0, 0, 0, 1, 1, 1, 1], weights: [3, 3, 3, 1, 1, 1, 1, 1] }, { positiveWhen: "high", cutOff: 3, seed: 1 }).accuracy.specificity.value // => 0.9
 */
export function validateThreshold(
  data: Pick<ThresholdRows, "values" | "condition" | "subjects" | "clusters" | "audience"> & {
    readonly weights?: undefined;
    readonly verification?: undefined;
  },
  options: ValidationOptions & {
    readonly verification?: Verification;
    readonly sampling?: Sampling;
    readonly prevalence?: number;
  },
): ThresholdValidation;
export function validateThreshold(
  data: ThresholdRows & { readonly clusters: NonNullable<ThresholdRows["clusters"]> },
  options: ValidationOptions & { readonly seed?: undefined; readonly replicates?: undefined },
): WeightedThresholdValidation;
export function validateThreshold(
  data: ThresholdRows,
  options: ValidationOptions & {
    readonly seed: number;
    /** Of the bootstrap, 2000 by default. */
    readonly replicates?: number;
  },
): WeightedThresholdValidation;
export function validateThreshold(
  data: ThresholdRows,
  options: ValidationOptions & {
    readonly verification?: Verification;
    readonly sampling?: Sampling;
    readonly prevalence?: number;
    readonly seed?: number;
    readonly replicates?: number;
  },
): ThresholdValidation | WeightedThresholdValidation {
  const caller = "validateThreshold";
  data = formerNames(caller, data, "examination");
  const { positiveWhen, cutOff, level = 0.95, verification, sampling, prevalence } = options;
  requireDirection(caller, positiveWhen);
  if (!Number.isFinite(cutOff)) {
    throw new InputError(`${caller} requires a finite cutOff, got ${cutOff}`);
  }
  const stated = { positiveWhen, cutOff, words: decisionText(cutOff, positiveWhen), level };
  if (data.weights !== undefined || data.examination !== undefined) {
    return weightedValidation(data, options, stated);
  }
  const codes = conditionCodes(caller, "condition", data.condition);
  requireNumbers(caller, "values", data.values, codes.length);
  const test = Uint8Array.from(codes, (_, row) =>
    reaches(data.values[row], cutOff, positiveWhen) ? 1 : 0,
  );
  const design = { level, verification, sampling, prevalence };
  const { subjects, clusters: sites } = data;
  const clusters = hasChildren(data) ? childrenOf(caller, data, codes.length) : null;
  const accuracy =
    clusters?.repeated || sites !== undefined
      ? clusteredAccuracy({ test, reference: codes, subjects, clusters: sites }, design)
      : accuracyFromCounts(tableOf(test, codes), design);
  return {
    kind: "threshold-validation",
    label,
    n: codes.length,
    ...(clusters === null ? {} : { subjects: clusters.count }),
    ...stated,
    accuracy,
    caution,
  };
}

const label = "cut-off fixed in advance; not chosen on these rows";

function weightedValidation(
  data: ThresholdRows,
  options: Partial<AccuracyDesign> & { readonly seed?: number; readonly replicates?: number },
  stated: Pick<ThresholdValidation, "positiveWhen" | "cutOff" | "words" | "level">,
): WeightedThresholdValidation {
  const caller = "validateThreshold";
  requireLevel(caller, stated.level);
  const { clusters } = data;
  const draws = requireDraws(caller, options, { clusters, when: "where rows are weighted" });
  for (const name of ["verification", "sampling", "prevalence"] as const) {
    if (options[name] !== undefined) {
      throw new InputError(
        `${caller} requires weighted rows without ${name}, which their weights already state, got ${options[name]}`,
      );
    }
  }
  const { accuracy, rows } = weightedAccuracy(caller, data, { ...stated, draws });
  return {
    kind: "threshold-validation",
    label,
    n: rows.n,
    ...(rows.clusters === null ? {} : { subjects: rows.clusters.count }),
    ...stated,
    accuracy,
    caution,
  };
}

function tableOf(test: Uint8Array, codes: Uint8Array) {
  const counts = [0, 0, 0, 0];
  for (let row = 0; row < codes.length; row++) counts[2 * codes[row] + test[row]]++;
  const [trueNegative, falsePositive, falseNegative, truePositive] = counts;
  return { truePositive, falsePositive, falseNegative, trueNegative };
}
