import { type Undefined, undefinedBecause } from "../results/index.js";
import { chiSquareTail } from "./distributions.js";

/** A test that several independent groups share one proportion. */
export interface Homogeneity {
  readonly kind: "homogeneity";
  /** "pearson", or "rao-scott" on effective sample sizes. */
  readonly method: "pearson" | "rao-scott";
  readonly chiSquare: number;
  readonly df: number;
  readonly p: number;
  /** Smallest expected count; below 5 the p-value is rough. */
  readonly smallestExpected: number;
}

/**
 * Pearson's chi-square of equal proportions over groups, empty groups left out. On effective sizes
 * (p(1 - p)/variance of each group) it is the adjusted test of Rao and Scott 1992.
 */
export function homogeneity(
  groups: readonly { readonly successes: number; readonly size: number; readonly value: number }[],
  method: "pearson" | "rao-scott",
): Homogeneity | Undefined {
  const used = groups.filter(({ size }) => size > 0);
  if (used.length < 2) return undefinedBecause("needs at least 2 groups with rows");
  const size = used.reduce((sum, group) => sum + group.size, 0);
  const share = used.reduce((sum, group) => sum + group.successes, 0) / size;
  if (share === 0 || share === 1) return undefinedBecause(`every group has a share of ${share}`);
  const chiSquare = used.reduce(
    (sum, group) => sum + (group.size * (group.value - share) ** 2) / (share * (1 - share)),
    0,
  );
  const df = used.length - 1;
  return {
    kind: "homogeneity",
    method,
    chiSquare,
    df,
    p: chiSquareTail(chiSquare, df),
    smallestExpected: Math.min(...used.map((group) => group.size * Math.min(share, 1 - share))),
  };
}
