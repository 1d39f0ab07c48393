import { quantileSorted } from "simple-statistics";
import { createRandom } from "../../inference/index.js";
import { type Estimate, type Undefined, undefinedBecause } from "../../results/index.js";
import { type Clusters, rowsByCluster } from "../../rows/index.js";
import { sumsOfAll } from "./stratumSums.js";

/** Limits whose weights are estimated from who was examined, anew in each resample. */
export interface VerifiedLimits {
  readonly bias: Estimate;
  readonly sd: Estimate;
  readonly lower: Estimate;
  readonly upper: Estimate;
  readonly effectiveRows: number;
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
): (VerifiedLimits & { readonly failed: number }) | Undefined {
  const { multiplier, level, replicates, seed } = run;
  const rows = rowsByCluster(subjects);
  const { sums, whole } = sumsOfAll(differences, strata);
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
