import { jackknifeSums, requireLevel, tEstimate } from "../../inference/index.js";
import {
  type Estimate,
  InputError,
  type Undefined,
  undefinedBecause,
} from "../../results/index.js";
import {
  type ClusterColumns,
  type ConditionColumn,
  childrenOf,
  conditionCodes,
  requireSameLength,
  sitesOf,
  sumsOf,
  type TestColumn,
  type UndecidablePolicy,
} from "../../rows/index.js";
import { decidedCodes } from "../undecidable.js";

/** Net benefit of two rules on the same rows, and their difference, first minus second. */
export interface NetBenefitComparison {
  readonly kind: "net-benefit-comparison";
  /** Rows compared. */
  readonly n: number;
  readonly subjects: number;
  readonly sites?: number;
  /** Rows left out because a rule was undecidable under "exclude". */
  readonly excluded: number;
  readonly level: number;
  readonly points: readonly {
    readonly thresholdProbability: number;
    readonly first: number;
    readonly second: number;
    /** First minus second. */
    readonly difference: Estimate | Undefined;
  }[];
}

/**
 * Difference of the net benefits of two rules on the same, completely examined rows, first minus
 * second, at stated threshold probabilities t: the mean over rows of (first - second) times 1 with
 * the condition and -t/(1 - t) without it (Vickers and Elkin 2006; per row as in Vickers and others
 * 2008).
 *
 * The interval follows the variance of the children's sums (ratio estimator) with Student's t on their
 * number less 1; without `subjects` rows are children; with `clusters` it is a jackknife over sites.
 *
 * Net benefit is in true referrals per row.
 *
 * @throws when lengths differ, a value is neither yes nor no, a threshold is not from 0 to below 1, or
 * rows are undecidable and no policy is given
 *
 * @example
 * compareNetBenefit({ first: [1, 1, 0, 1], second: [1, 0, 0, 0], reference: [1, 1, 1, 0] }, { thresholdProbabilities: [0.2] }).points[0].difference.value // => 0.1875
 */
export function compareNetBenefit(
  columns: ClusterColumns & {
    readonly first: TestColumn;
    readonly second: TestColumn;
    readonly reference: ConditionColumn;
  },
  options: {
    readonly thresholdProbabilities: readonly number[];
    readonly level?: number;
    readonly undecidable?: UndecidablePolicy;
  },
): NetBenefitComparison {
  const caller = "compareNetBenefit";
  const { thresholdProbabilities, undecidable } = options;
  const level = requireLevel(caller, options.level ?? 0.95);
  const { first, second } = columns;
  const rows = requireSameLength(caller, { first, second, reference: columns.reference });
  const strange = thresholdProbabilities.find((t) => !(t >= 0 && t < 1));
  if (thresholdProbabilities.length === 0 || strange !== undefined) {
    throw new InputError(
      `${caller} requires thresholdProbabilities from 0 to below 1, got ${strange ?? "none"}`,
    );
  }
  const a = decidedCodes(caller, "first", first, undecidable);
  const b = decidedCodes(caller, "second", second, undecidable);
  const reference = conditionCodes(caller, "reference", columns.reference);
  const children = childrenOf(caller, columns, rows);
  const sites = sitesOf(caller, columns, children);
  // Rows, and those that each rule refers with and without the condition.
  const counted = (row: number) => {
    if (a[row] === 2 || b[row] === 2) return [0, 0, 0, 0, 0];
    const has = reference[row];
    return [1, a[row] * has, a[row] * (1 - has), b[row] * has, b[row] * (1 - has)];
  };
  const sums = sumsOf(sites ?? children, 5, counted).filter(([n]) => n > 0);
  const totals = [0, 1, 2, 3, 4].map((k) => sums.reduce((sum, one) => sum + one[k], 0));
  const [n] = totals;
  return {
    kind: "net-benefit-comparison",
    n,
    subjects: children.count,
    ...(sites ? { sites: sites.count } : {}),
    excluded: rows - n,
    level,
    points: thresholdProbabilities.map((thresholdProbability) => {
      const odds = thresholdProbability / (1 - thresholdProbability);
      const [, trueFirst, falseFirst, trueSecond, falseSecond] = totals;
      const gain = ([, hit, wrong, otherHit, otherWrong]: ArrayLike<number> & Iterable<number>) =>
        hit - otherHit - (wrong - otherWrong) * odds;
      return {
        thresholdProbability,
        first: n === 0 ? 0 : (trueFirst - falseFirst * odds) / n,
        second: n === 0 ? 0 : (trueSecond - falseSecond * odds) / n,
        difference: sites
          ? jackknifeSums(sums, (left) => (left[0] === 0 ? null : gain(left) / left[0]), {
              denominator: ([size]) => size,
              scale: "plain",
              level,
            })
          : overChildren(
              sums.map((one) => ({ rows: one[0], gain: gain(one) })),
              level,
            ),
      };
    }),
  };
}

/** A mean of rows with the variance of children's sums. */
function overChildren(
  children: readonly { readonly rows: number; readonly gain: number }[],
  level: number,
): Estimate | Undefined {
  const m = children.length;
  if (m < 2) return undefinedBecause("rows of fewer than 2 children");
  const n = children.reduce((sum, { rows }) => sum + rows, 0);
  const value = children.reduce((sum, { gain }) => sum + gain, 0) / n;
  const squares = children.reduce((sum, { rows, gain }) => sum + (gain - rows * value) ** 2, 0);
  const se = Math.sqrt((m / (m - 1)) * squares) / n;
  if (se < 1e-12) {
    return undefinedBecause("the two rules do not differ between children: no variance");
  }
  return tEstimate(value, se, { df: m - 1, level, method: "clustered-t" });
}
