import { jackknifeSums, siteShare } from "../../inference/index.js";
import { type Estimate, InputError, type Undefined } from "../../results/index.js";
import { type Clusters, countByCluster, sumsOf } from "../../rows/index.js";
import type { LimitEstimates } from "./limitIntervals.js";
import type { LimitModel } from "./limitModel.js";
import type { Trend } from "./trendSlope.js";

interface Pairs {
  readonly test: ArrayLike<number>;
  readonly reference: ArrayLike<number>;
}

const rowsOf = ([rows]: readonly number[]) => rows;

/**
 * Bias, SD and limits with intervals by a delete-one-site jackknife, about the values of the model.
 *
 * @throws where the sites are too few (below 2 effective ones) for any interval
 */
export function siteLimits(
  { test, reference }: Pairs,
  sites: Clusters,
  model: LimitModel,
  multiplier: number,
  level: number,
): LimitEstimates {
  const sums = sumsOf(sites, 3, (row) => {
    const away = test[row] - reference[row] - model.bias;
    return [1, away, away * away];
  });
  const bias = ([n, away]: readonly number[]) => model.bias + away / n;
  const sd = ([n, away, squares]: readonly number[]) =>
    Math.sqrt(Math.max(0, (squares - (away * away) / n) / (n - 1)));
  const value = Math.sqrt(model.variance);
  const estimate = (of: (totals: readonly number[]) => number, at: number): Estimate => {
    const found = jackknifeSums(sums, (totals) => (totals[0] > 1 ? of(totals) : null), {
      denominator: rowsOf,
      scale: "plain",
      level,
      value: at,
    });
    if (found.kind === "undefined") {
      throw new InputError(
        `limitsOfAgreement requires more sites, got ${found.reason}; give subjects in place of clusters, knowing that differences between sites are then left out`,
      );
    }
    return found;
  };
  return {
    bias: estimate(bias, model.bias),
    sd: estimate(sd, value),
    lower: estimate(
      (totals) => bias(totals) - multiplier * sd(totals),
      model.bias - multiplier * value,
    ),
    upper: estimate(
      (totals) => bias(totals) + multiplier * sd(totals),
      model.bias + multiplier * value,
    ),
  };
}

/** Slope of the differences on the magnitude, over sites. */
export function siteSlope(
  { test, reference }: Pairs,
  trend: Trend,
  sites: Clusters,
  level: number,
): Estimate | Undefined {
  const magnitude = (row: number) =>
    trend === "mean"
      ? (test[row] + reference[row]) / 2
      : (trend === "test" ? test : reference)[row];
  const sums = sumsOf(sites, 5, (row) => {
    const [x, y] = [magnitude(row), test[row] - reference[row]];
    return [1, x, y, x * x, x * y];
  });
  return jackknifeSums(
    sums,
    ([n, x, y, xx, xy]) => {
      const spread = xx - (x * x) / n;
      return spread > 1e-12 * xx ? (xy - (x * y) / n) / spread : null;
    },
    { denominator: rowsOf, scale: "plain", level },
  );
}

/** Share of rows outside the limits, over sites. */
export function siteShareOutside(
  { test, reference }: Pairs,
  { lower, upper }: LimitEstimates,
  sites: Clusters,
  level: number,
): Estimate | Undefined {
  const outside = (row: number) => {
    const difference = test[row] - reference[row];
    return difference < lower.value || difference > upper.value;
  };
  return siteShare(countByCluster(sites, outside), level);
}
