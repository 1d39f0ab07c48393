import { effectiveSites, normalQuantile, requireLevel, tEstimate } from "../../inference/index.js";
import { type Estimate, formerNames, InputError, type Undefined } from "../../results/index.js";
import {
  childrenOf,
  type ExaminationColumns,
  requirePairs,
  requireWeights,
  sitesOf,
} from "../../rows/index.js";
import { estimatedWeights } from "./estimatedWeights.js";
import { examinedOnly } from "./limitNotes.js";
import { limitsOfAgreement } from "./limitsOfAgreement.js";
import type { WeightedData, WeightedLimits } from "./weightedData.js";

interface WeightedOptions {
  readonly level?: number;
  readonly multiplier?: number;
}

/**
 * Limits of agreement where examination depended on the reading: each examined row counts as often
 * as its inverse probability of being examined. Agreement among referred children alone selects on
 * the test: an instrument without bias then seems to have one.
 *
 * With `weights` (a design's own, or `examinationWeights`) these are taken as known: rows are the
 * examined ones, errors are linearised and cluster-robust (no normal distribution is assumed for
 * them), with Student's t over children. With `examination` the rows are all rows with a reading
 * (the reference is not looked at where nobody examined), weights are estimated from who was
 * examined, anew in each resample of a bootstrap of children, and the intervals are its percentiles;
 * undefined when in more than 5 % of resamples a stratum had no examined row. With `clusters: { subject,
 * site }` intervals go by site: known weights have errors summed by site, estimated ones a delete-one-site
 * jackknife with weights estimated anew without each site, which draws nothing and takes no seed. It is
 * undefined where without a site nobody stands for a stratum, or sites count as fewer than 2.
 *
 * @throws when columns differ in length, a value is not finite, a weight is not positive, a stratum
 * has no examined row, `examination` comes without a seed, or there are fewer than 3 rows or subjects
 *
 * @example
 * weightedLimits({ test: [1, 2, 4, 5], reference: [1, 1, 4, 4], weights: [1, 1, 1, 3] }).bias.value // => 0.6667
 */
export function weightedLimits(
  data: WeightedData & {
    readonly weights: ArrayLike<number>;
    readonly examination?: undefined;
  },
  options?: WeightedOptions,
): WeightedLimits;
export function weightedLimits(
  data: WeightedData & {
    readonly weights?: undefined;
    readonly examination: ExaminationColumns;
    readonly clusters: NonNullable<WeightedData["clusters"]>;
  },
  options?: WeightedOptions,
): WeightedLimits | Undefined;
export function weightedLimits(
  data: WeightedData & {
    readonly weights?: undefined;
    readonly examination: ExaminationColumns;
  },
  options: WeightedOptions & {
    readonly seed: number;
    /** Of the bootstrap, 2000 by default. */
    readonly replicates?: number;
  },
): WeightedLimits | Undefined;
export function weightedLimits(
  data: WeightedData & {
    readonly weights?: ArrayLike<number>;
    readonly examination?: ExaminationColumns;
  },
  options: WeightedOptions & { readonly seed?: number; readonly replicates?: number } = {},
): WeightedLimits | Undefined {
  const level = requireLevel(caller, options.level ?? 0.95);
  const multiplier = options.multiplier ?? normalQuantile(0.975);
  const { weights, examination, ...pairs } = formerNames(caller, data, "examination");
  if ((weights === undefined) === (examination === undefined)) {
    throw new InputError(
      `${caller} requires weights or examination, got ${weights === undefined ? "neither" : "both"}`,
    );
  }
  return examination === undefined
    ? knownWeights({ ...pairs, weights: weights! }, { level, multiplier })
    : estimatedWeights({ ...pairs, examination }, { ...options, level, multiplier });
}

const caller = "weightedLimits";

function knownWeights(
  data: WeightedData & { readonly weights: ArrayLike<number> },
  { level, multiplier }: { readonly level: number; readonly multiplier: number },
): WeightedLimits {
  const { test, reference, weights } = data;
  const n = requirePairs(caller, { test, reference }, 3);
  requireWeights(caller, weights, n, "above 0");
  let total = 0;
  for (let row = 0; row < n; row++) total += weights[row];
  const children = childrenOf(caller, data, n);
  if (children.count < 3) {
    throw new InputError(`${caller} requires at least 3 subjects, got ${children.count}`);
  }
  const sites = sitesOf(caller, data, children);
  const effective = sites && effectiveSites(Array.from(sites.sizes));
  if (effective !== undefined && !(effective >= 2 - 1e-9)) {
    throw new InputError(
      `${caller} requires sites that count as 2 or more, got ${effective.toFixed(1)}; give subjects in place of clusters, knowing that differences between sites are then left out`,
    );
  }
  const clusters = sites ?? children;
  const method =
    effective === undefined
      ? "linearised-cluster-robust"
      : effective < 5
        ? "linearised-sites-rough"
        : "linearised-sites";
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
      scores[clusters.ofRow[row]] += (weights[row] * influence) / total;
    }
    const square = scores.reduce((sum, score) => sum + score * score, 0);
    const se = Math.sqrt((square * clusters.count) / (clusters.count - 1));
    return tEstimate(value, se, { df: (effective ?? clusters.count) - 1, level, method });
  };
  return {
    kind: "weighted-limits",
    n,
    subjects: children.count,
    ...(sites ? { sites: sites.count } : {}),
    level,
    multiplier,
    direction: "test-minus-reference",
    effectiveRows,
    bias: estimate(1, 0),
    sd: estimate(0, 1),
    lower: estimate(1, -multiplier),
    upper: estimate(1, multiplier),
    amongExamined: limitsOfAgreement(data, { level, multiplier, conditional: "skip" }),
    notes: [examinedOnly, "The weights are taken as known."],
  };
}
