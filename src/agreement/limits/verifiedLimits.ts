import { quantileSorted } from "simple-statistics";
import { createRandom } from "../../inference/index.js";
import {
  type Estimate,
  InputError,
  type Undefined,
  undefinedBecause,
} from "../../results/index.js";
import { type Clusters, rowsByCluster } from "../../rows/index.js";

/** Limits whose weights are estimated from who was examined, anew in each resample. */
interface VerifiedLimits {
  readonly bias: Estimate;
  readonly sd: Estimate;
  readonly lower: Estimate;
  readonly upper: Estimate;
  readonly effectiveRows: number;
  /** Resamples in which a stratum had no examined row; the intervals are of the others. */
  readonly failed: number;
}

/** Above this share of failed resamples there is no interval. */
const mostFailed = 0.05;

/**
 * Weighted limits with percentile intervals: children are drawn with all their rows, examined or
 * not, and each examined row weighs rows / examined rows of its stratum in that resample.
 * Resample r draws from stream r of the seed.
 *
 * @param differences NaN in rows that were not examined
 */
export function verifiedLimits(
  differences: Float64Array,
  { strata, subjects }: { readonly strata: Clusters; readonly subjects: Clusters },
  run: {
    readonly multiplier: number;
    readonly level: number;
    readonly replicates: number;
    readonly seed: number;
  },
): VerifiedLimits | Undefined {
  const { multiplier, level, replicates, seed } = run;
  const rows = rowsByCluster(subjects);
  const sums = stratumSums(strata.count);
  for (let row = 0; row < differences.length; row++) sums.add(strata.ofRow[row], differences[row]);
  const whole = sums.limits();
  if (whole === null) {
    throw new InputError(
      "weightedLimits requires an examined row in every stratum, got a stratum of none",
    );
  }
  const drawn: { bias: number[]; sd: number[]; lower: number[]; upper: number[] } = {
    bias: [],
    sd: [],
    lower: [],
    upper: [],
  };
  const random = createRandom(seed);
  for (let replicate = 0; replicate < replicates; replicate++) {
    random.restart(seed, replicate);
    sums.clear();
    for (let draw = 0; draw < subjects.count; draw++) {
      const child = random.integer(subjects.count);
      for (let at = rows.start[child]; at < rows.start[child + 1]; at++) {
        sums.add(strata.ofRow[rows.rows[at]], differences[rows.rows[at]]);
      }
    }
    const found = sums.limits();
    if (found === null) continue;
    drawn.bias.push(found.bias);
    drawn.sd.push(found.sd);
    drawn.lower.push(found.bias - multiplier * found.sd);
    drawn.upper.push(found.bias + multiplier * found.sd);
  }
  const failed = replicates - drawn.bias.length;
  if (failed > mostFailed * replicates) {
    return undefinedBecause(
      `a stratum had no examined row in ${failed} of ${replicates} resamples: join strata`,
    );
  }
  const repeated = subjects.count < differences.length;
  const estimate = (value: number, values: number[]): Estimate => {
    values.sort((a, b) => a - b);
    return {
      kind: "estimate",
      value,
      low: quantileSorted(values, (1 - level) / 2),
      high: quantileSorted(values, (1 + level) / 2),
      level,
      method: repeated ? "cluster-bootstrap-percentile" : "bootstrap-percentile",
    };
  };
  return {
    bias: estimate(whole.bias, drawn.bias),
    sd: estimate(whole.sd, drawn.sd),
    lower: estimate(whole.bias - multiplier * whole.sd, drawn.lower),
    upper: estimate(whole.bias + multiplier * whole.sd, drawn.upper),
    effectiveRows: whole.effectiveRows,
    failed,
  };
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
    limits(): { bias: number; sd: number; effectiveRows: number } | null {
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
