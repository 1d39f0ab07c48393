import { normalQuantile, tQuantile } from "../inference/distributions.js";
import { requireLevel } from "../inference/requireLevel.js";
import { type Estimate, InputError } from "../results/index.js";
import { clustersOf, requireFinite, requirePairs } from "./columns.js";
import { type LimitsOfAgreement, limitsOfAgreement } from "./limitsOfAgreement.js";

export interface WeightedLimits {
  readonly kind: "weightedLimits";
  /** Examined rows. */
  readonly n: number;
  readonly subjects: number;
  readonly level: number;
  readonly multiplier: number;
  readonly direction: "test-minus-reference";
  /** Sum of weights squared over the sum of their squares. */
  readonly effectiveRows: number;
  readonly bias: Estimate;
  readonly sd: Estimate;
  readonly lower: Estimate;
  readonly upper: Estimate;
  /** The same without weights, which describes the examined only. */
  readonly amongExamined: LimitsOfAgreement;
  readonly notes: readonly string[];
}

/**
 * Limits of agreement where examination depended on the reading: each examined row counts as often
 * as its inverse probability of being examined (`examinationWeights`, or a design's own).
 * Agreement among referred children alone selects on the test: an instrument without bias then
 * seems to have one.
 *
 * Errors are linearised and cluster-robust (no normal distribution is assumed for them), with
 * Student's t over children; the weights are taken as known.
 *
 * @param data test and reference in dioptres (or any one unit), a positive weight a row
 * @throws when columns differ in length, a value is not finite, a weight is not positive, or there
 * are fewer than 3 rows or subjects
 *
 * @example
 * weightedLimits({ test: [1, 2, 3], reference: [0, 0, 0], weights: [1, 1, 2] }).bias.value // => 2.25
 */
export function weightedLimits(
  data: {
    readonly test: ArrayLike<number>;
    readonly reference: ArrayLike<number>;
    readonly weights: ArrayLike<number>;
    readonly subjects?: ArrayLike<string | number>;
  },
  options: { readonly level?: number; readonly multiplier?: number } = {},
): WeightedLimits {
  const caller = "weightedLimits";
  const { test, reference, weights } = data;
  const level = requireLevel(caller, options.level ?? 0.95);
  const multiplier = options.multiplier ?? normalQuantile(0.975);
  const n = requirePairs(caller, test, reference, 3);
  requireFinite(caller, "test", test);
  requireFinite(caller, "reference", reference);
  const total = requireWeights(weights, n);
  const clusters = clustersOf(caller, data.subjects, n);
  if (clusters.count < 3) {
    throw new InputError(`${caller} requires at least 3 subjects, got ${clusters.count}`);
  }
  const difference = (row: number) => test[row] - reference[row];
  let [bias, variance, weightSquares] = [0, 0, 0];
  for (let row = 0; row < n; row++) bias += (weights[row] * difference(row)) / total;
  for (let row = 0; row < n; row++) {
    variance += (weights[row] * (difference(row) - bias) ** 2) / total;
    weightSquares += weights[row] ** 2;
  }
  const effectiveRows = (total * total) / weightSquares;
  variance *= effectiveRows / (effectiveRows - 1);
  const sd = Math.sqrt(variance);
  const estimate = (onBias: number, onSd: number): Estimate => {
    const value = onBias * bias + onSd * sd;
    const scores = new Float64Array(clusters.count);
    for (let row = 0; row < n; row++) {
      const d = difference(row) - bias;
      const influence = onBias * d + (sd > 0 ? (onSd * (d * d - variance)) / (2 * sd) : 0);
      scores[clusters.of[row]] += (weights[row] * influence) / total;
    }
    const square = scores.reduce((sum, score) => sum + score * score, 0);
    const se = Math.sqrt((square * clusters.count) / (clusters.count - 1));
    const half = tQuantile((1 + level) / 2, clusters.count - 1) * se;
    const method = "linearised-cluster-robust";
    return { kind: "estimate", value, low: value - half, high: value + half, level, method, se };
  };
  return {
    kind: "weightedLimits",
    n,
    subjects: clusters.count,
    level,
    multiplier,
    direction: "test-minus-reference",
    effectiveRows,
    bias: estimate(1, 0),
    sd: estimate(0, 1),
    lower: estimate(1, -multiplier),
    upper: estimate(1, multiplier),
    amongExamined: limitsOfAgreement(data, { level, multiplier }),
    notes: [
      "Examination depended on the reading: the unweighted limits describe the examined only.",
      "The weights are taken as known.",
    ],
  };
}

/**
 * Inverse shares examined: every examined row weighs rows / examined rows of its stratum (bands of
 * the reading, by which examination was decided), an unexamined row 0.
 *
 * @throws when the columns differ in length or a stratum has no examined row
 *
 * @example
 * examinationWeights({ examined: [true, true, true, false], strata: ["a", "b", "b", "b"] }) // => [1, 1.5, 1.5, 0]
 */
export function examinationWeights(data: {
  readonly examined: ArrayLike<boolean>;
  readonly strata: ArrayLike<string | number>;
}): number[] {
  const { examined, strata } = data;
  const clusters = clustersOf("examinationWeights", strata, examined.length, "strata");
  const seen = new Float64Array(clusters.count);
  for (let row = 0; row < examined.length; row++) if (examined[row]) seen[clusters.of[row]]++;
  const empty = seen.indexOf(0);
  if (empty >= 0) {
    const row = clusters.of.indexOf(empty);
    throw new InputError(
      `examinationWeights requires an examined row in every stratum, got none in ${strata[row]}`,
    );
  }
  return Array.from(clusters.of, (stratum, row) =>
    examined[row] ? clusters.sizes[stratum] / seen[stratum] : 0,
  );
}

function requireWeights(weights: ArrayLike<number>, rows: number): number {
  if (weights.length !== rows) {
    throw new InputError(
      `weightedLimits requires weights for each of ${rows} rows, got ${weights.length}`,
    );
  }
  let total = 0;
  for (let row = 0; row < rows; row++) {
    if (!(weights[row] > 0 && weights[row] < Number.POSITIVE_INFINITY)) {
      throw new InputError(
        `weightedLimits requires positive weights, got ${weights[row]} at row ${row}`,
      );
    }
    total += weights[row];
  }
  return total;
}
