import { binomialQuantile } from "../../inference/index.js";
import {
  type Estimate,
  type OneSided,
  type Undefined,
  undefinedBecause,
} from "../../results/index.js";
import type { Clusters } from "../../rows/index.js";
import { quantileOfRanks, type RankedDifferences } from "./orderedDifferences.js";

/** A percentile of the differences as a limit of agreement, with no assumption about their shape. */
export type PercentileLimit = (Estimate | OneSided) & {
  /** Variance of the share beyond the limit against that of independent rows. */
  readonly designEffect: number;
  /** Rows over the design effect: what the interval counts. */
  readonly effectiveRows: number;
};

export interface PercentileLimits {
  readonly kind: "percentile-limits";
  /** Share of differences between the limits. */
  readonly coverage: number;
  readonly lower: PercentileLimit | Undefined;
  readonly upper: PercentileLimit | Undefined;
}

/**
 * The 2.5th and 97.5th percentiles (for a coverage of 0.95; type 7) with order statistics as their
 * intervals. They hold whatever the shape of the differences; they count effective rows, because two
 * eyes of a child, or children of a school, say less than as many strangers.
 *
 * @param differences by rank, with the cluster of each row
 */
export function percentileLimits(
  differences: OrderedDifferences,
  coverage: number,
  level: number,
): PercentileLimits {
  const share = (1 - coverage) / 2;
  return {
    kind: "percentile-limits",
    coverage,
    lower: percentileLimit(differences, share, level),
    upper: percentileLimit(differences, 1 - share, level),
  };
}

export interface OrderedDifferences {
  readonly at: RankedDifferences;
  readonly n: number;
  /** Whose rows they are, and the value of each row; absent where rows are independent. */
  readonly clusters?: Clusters;
  readonly differenceOf?: (row: number) => number;
  /** Sites above children: the design effect is then not held below the rows of a cluster. */
  readonly sites?: boolean;
}

/**
 * One percentile with its order-statistic interval on the effective number of rows m: the ranks whose
 * binomial probabilities leave half of 1 - level on either side, carried over to all rows. For 0.95
 * and the 2.5th percentile a rank outside the sample becomes the extreme from 103 effective rows on,
 * and the level says what is left (.975 - .975^m, .90 to .95); below, the outer end is not reached by
 * these data and the inner end stands alone. Both tails mirror each other.
 *
 * Undefined with rows of fewer than 2 children.
 */
export function percentileLimit(
  differences: OrderedDifferences,
  share: number,
  level: number,
): PercentileLimit | Undefined {
  const { n, clusters } = differences;
  if (clusters !== undefined && clusters.count < 2) {
    return undefinedBecause("rows of fewer than 2 children: nothing is known of their variance");
  }
  // The upper tail is the lower one seen from the other end.
  const mirrored = share > 0.5;
  const tail = mirrored ? 1 - share : share;
  const at = (rank: number) => differences.at(mirrored ? n + 1 - rank : rank);
  const value = quantileOfRanks(differences.at, n, share);
  const effect = designEffect(differences, value, mirrored);
  const effectiveRows = n / effect;
  const m = Math.floor(effectiveRows + 1e-9);
  const side = (1 - level) / 2;
  const outer = Math.floor((n / effectiveRows) * binomialQuantile(side, m, tail));
  const inner = Math.ceil((n / effectiveRows) * (binomialQuantile(1 - side, m, tail) + 1));
  const shape = { value, designEffect: effect, effectiveRows, method: "order-statistics" };
  // What an extreme in place of a rank outside the sample leaves of the level.
  const left = 1 - (outer < 1 ? (1 - tail) ** m : side) - (inner > n ? tail ** m : side);
  if (inner > n && left < 1 - 4 * side) {
    return undefinedBecause(`${n} rows are too few for an interval of this percentile`);
  }
  if (outer < 1 && left < 1 - 4 * side) {
    const [low, high] = mirrored ? [at(inner), null] : [null, at(inner)];
    const reason = "the outer end is not reached by these data";
    return { kind: "one-sided", ...shape, low, high, level: 1 - side, reason };
  }
  const [near, far] = [at(Math.min(n, inner)), at(Math.max(1, outer))];
  const [low, high] = mirrored ? [near, far] : [far, near];
  return { kind: "estimate", ...shape, low, high, level: outer < 1 || inner > n ? left : level };
}

/**
 * Variance between clusters of "at or beyond the limit" (ratio estimator) over that of independent
 * rows, held between 1 and the rows of a cluster; for sites not held from above.
 */
function designEffect(
  { n, clusters, differenceOf, sites }: OrderedDifferences,
  limit: number,
  above: boolean,
): number {
  if (clusters === undefined || differenceOf === undefined || !clusters.repeated) return 1;
  const beyond = new Float64Array(clusters.count);
  let total = 0;
  for (let row = 0; row < n; row++) {
    const value = differenceOf(row);
    if (above ? value < limit : value > limit) continue;
    beyond[clusters.ofRow[row]]++;
    total++;
  }
  const p = total / n;
  if (p === 1) return n / clusters.count;
  let squares = 0;
  for (let c = 0; c < clusters.count; c++) squares += (beyond[c] - clusters.sizes[c] * p) ** 2;
  const variance = ((squares / n / n) * clusters.count) / (clusters.count - 1);
  const effect = Math.max(1, (variance * n) / (p * (1 - p)));
  return sites ? effect : Math.min(effect, n / clusters.count);
}
