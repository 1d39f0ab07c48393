import { effectiveSites } from "../../inference/index.js";
import type { Clusters } from "../../rows/index.js";
import type { ConditionalFit } from "./conditionalFit.js";

/** How sure the parts of conditional limits are: all by what each child (or site) adds to them. */
export interface ConditionalErrors {
  /**
   * Covariance of: bias at the centre, its slope, spread at the centre, its slope, share at or
   * below the lower quantile, share at or above the upper one.
   */
  readonly covariance: readonly (readonly number[])[];
  /** Mean over rows of 1 and of the magnitude from the centre, each over the fitted spread. */
  readonly perSpread: readonly [number, number];
  /** Of Student's t; with sites K_eff - 1. */
  readonly df: number;
  /** What intervals of the lines are called. */
  readonly method: "t-robust" | "t-cluster-robust" | "t-sites" | "t-sites-rough";
}

const parts = 6;

/**
 * The linearised errors of both lines and both shares, as `linearFit` has those of one line: HC3 for
 * independent rows, else from sums of children. A row counts in the bias line by its residual, in the
 * spread line by how far the residual's size lies off it and by what an error of the bias line does
 * to all sizes. With sites, sums of sites and K_eff - 1 degrees of freedom; rough below 5.
 *
 * @param whose the child, or the site, of each row
 */
export function conditionalErrors(
  fit: ConditionalFit,
  quantiles: readonly [number, number],
  whose: Clusters,
  sites: boolean,
): ConditionalErrors {
  const { away, residuals, spreadAtRow, squares } = fit;
  const n = away.length;
  const clustered = whose.repeated || sites;
  // What an error of the bias line does to the line of sizes: mean sign, by magnitude.
  const sign = [0, 0, 0];
  const perSpread: [number, number] = [0, 0];
  const used = n - fit.withoutSpread;
  const shares = [0, 0];
  const beyond = (row: number, side: number) => {
    if (!(spreadAtRow[row] > 0)) return 0;
    const scaled = residuals[row] / spreadAtRow[row];
    return (side === 0 ? scaled <= quantiles[0] : scaled >= quantiles[1]) ? 1 / used : 0;
  };
  for (let row = 0; row < n; row++) {
    const x = away[row];
    const direction = Math.sign(residuals[row]);
    sign[0] += direction;
    sign[1] += direction * x;
    sign[2] += direction * x * x;
    if (!(spreadAtRow[row] > 0)) continue;
    perSpread[0] += 1 / spreadAtRow[row] / used;
    perSpread[1] += x / spreadAtRow[row] / used;
    for (const side of [0, 1]) shares[side] += beyond(row, side);
  }
  const sums = new Float64Array(parts * whose.count);
  for (let row = 0; row < n; row++) {
    const x = away[row];
    const left = clustered ? 1 : 1 - 1 / n - (x * x) / squares;
    const inflated = left < 1e-9 ? 0 : 1 / left;
    const at = parts * whose.ofRow[row];
    const height = (residuals[row] * inflated) / n;
    const slope = (x * residuals[row] * inflated) / squares;
    const size = (Math.abs(residuals[row]) - spreadAtRow[row]) * inflated;
    sums[at] += height;
    sums[at + 1] += slope;
    sums[at + 2] += size / n - (sign[0] * height + sign[1] * slope) / n;
    sums[at + 3] += (x * size) / squares - (sign[1] * height + sign[2] * slope) / squares;
    if (!(spreadAtRow[row] > 0)) continue;
    sums[at + 4] += beyond(row, 0) - shares[0] / used;
    sums[at + 5] += beyond(row, 1) - shares[1] / used;
  }
  const factor = clustered ? (whose.count / (whose.count - 1)) * ((n - 1) / (n - 2)) : 1;
  const covariance = Array.from({ length: parts }, () => new Array<number>(parts).fill(0));
  for (let c = 0; c < whose.count; c++) {
    for (let i = 0; i < parts; i++) {
      for (let j = 0; j <= i; j++) {
        covariance[i][j] += factor * sums[parts * c + i] * sums[parts * c + j];
      }
    }
  }
  for (let i = 0; i < parts; i++) for (let j = 0; j < i; j++) covariance[j][i] = covariance[i][j];
  if (sites) {
    const effective = effectiveSites(Array.from(whose.sizes));
    const method = effective < 5 ? "t-sites-rough" : "t-sites";
    return { covariance, perSpread, df: effective - 1, method };
  }
  return whose.repeated
    ? { covariance, perSpread, df: whose.count - 1, method: "t-cluster-robust" }
    : { covariance, perSpread, df: n - 2, method: "t-robust" };
}
