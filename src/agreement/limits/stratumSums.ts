import { InputError } from "../../results/index.js";
import type { Clusters } from "../../rows/index.js";

/** Sums of all rows in their strata, which can be cleared and filled anew, and what they give. */
export function sumsOfAll(differences: Float64Array, strata: Clusters) {
  const sums = stratumSums(strata.count);
  differences.forEach((difference, row) => {
    sums.add(strata.ofRow[row], difference);
  });
  const whole = sums.limits();
  if (whole === null) {
    throw new InputError(
      "weightedLimits requires an examined row in every stratum, got a stratum of none",
    );
  }
  return { sums, whole };
}

/** Weighted mean and SD of the differences. */
export interface Spread {
  readonly bias: number;
  readonly sd: number;
  readonly effectiveRows: number;
}

/** Rows, examined rows and their differences in each stratum of one sample. */
function stratumSums(strata: number) {
  const rows = new Float64Array(strata);
  const examined = new Float64Array(strata);
  const sums = new Float64Array(strata);
  const squares = new Float64Array(strata);
  // a difference of the first sample, from which all are taken
  let origin = Number.NaN;
  return {
    clear(): void {
      for (const list of [rows, examined, sums, squares]) list.fill(0);
    },
    add(stratum: number, difference: number): void {
      rows[stratum]++;
      if (Number.isNaN(difference)) return;
      if (Number.isNaN(origin)) origin = difference;
      const d = difference - origin;
      examined[stratum]++;
      sums[stratum] += d;
      squares[stratum] += d * d;
    },
    /** Null where a stratum has rows but none examined, or a single row stands for all. */
    limits(): Spread | null {
      let [total, sum, square, weightSquares] = [0, 0, 0, 0];
      for (let stratum = 0; stratum < strata; stratum++) {
        if (rows[stratum] === 0) continue;
        if (examined[stratum] === 0) return null;
        const weight = rows[stratum] / examined[stratum];
        total += rows[stratum];
        sum += weight * sums[stratum];
        square += weight * squares[stratum];
        weightSquares += rows[stratum] * weight;
      }
      const mean = sum / total;
      const effectiveRows = (total * total) / weightSquares;
      if (!(effectiveRows > 1)) return null;
      const variance = Math.max(0, square / total - mean * mean);
      return {
        bias: origin + mean,
        sd: Math.sqrt((variance * effectiveRows) / (effectiveRows - 1)),
        effectiveRows,
      };
    },
  };
}
