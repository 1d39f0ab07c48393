import { jackknifeEstimate } from "../../inference/index.js";
import type { Undefined } from "../../results/index.js";
import type { Clusters } from "../../rows/index.js";
import { type Spread, sumsOfAll } from "./stratumSums.js";
import type { VerifiedLimits } from "./verifiedLimits.js";

/**
 * Weighted limits with sites above children: a delete-one-site jackknife, for which weights are
 * estimated anew without each site. A site's share is that of the weights of its examined rows.
 *
 * @param differences NaN in rows that were not examined
 * @param columns `weights` of the rows, 0 where not examined
 */
export function verifiedOverSites(
  differences: Float64Array,
  columns: {
    readonly strata: Clusters;
    readonly sites: Clusters;
    readonly weights: Float64Array;
  },
  { multiplier, level }: { readonly multiplier: number; readonly level: number },
): VerifiedLimits | Undefined {
  const { strata, sites, weights } = columns;
  const { sums, whole } = sumsOfAll(differences, strata);
  const denominators = new Array<number>(sites.count).fill(0);
  weights.forEach((weight, row) => {
    denominators[sites.ofRow[row]] += weight;
  });
  const leftOut: (Spread | null)[] = [];
  for (let site = 0; site < sites.count; site++) {
    sums.clear();
    differences.forEach((difference, row) => {
      if (sites.ofRow[row] !== site) sums.add(strata.ofRow[row], difference);
    });
    // null where nobody stands for a stratum any more
    leftOut.push(sums.limits());
  }
  const estimate = (of: (spread: Spread) => number) =>
    jackknifeEstimate({
      value: of(whole),
      leftOut: leftOut.map((one) => one && of(one)),
      denominators,
      scale: "plain",
      level,
    });
  const bias = estimate((one) => one.bias);
  const sd = estimate((one) => one.sd);
  const lower = estimate((one) => one.bias - multiplier * one.sd);
  const upper = estimate((one) => one.bias + multiplier * one.sd);
  if (bias.kind === "undefined") return bias;
  if (sd.kind === "undefined") return sd;
  if (lower.kind === "undefined") return lower;
  if (upper.kind === "undefined") return upper;
  return { bias, sd, lower, upper, effectiveRows: whole.effectiveRows };
}
