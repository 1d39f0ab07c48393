import { quantileSorted } from "simple-statistics";
import { createRandom } from "../../inference/index.js";
import type { Estimate } from "../../results/index.js";
import type { LimitEstimates } from "./limitIntervals.js";
import { type ClusterSums, clusteredModel } from "./limitModel.js";

/**
 * Percentile intervals over whole children drawn with replacement: the same variance components in
 * every replicate. Replicate r draws from stream r of the seed.
 */
export function bootstrapLimits(
  sums: ClusterSums,
  readings: number,
  multiplier: number,
  level: number,
  { replicates, seed }: { readonly replicates: number; readonly seed: number },
): LimitEstimates {
  const clusters = sums.units.length;
  const drawn = {
    bias: new Float64Array(replicates),
    sd: new Float64Array(replicates),
    lower: new Float64Array(replicates),
    upper: new Float64Array(replicates),
  };
  const picks = new Int32Array(clusters);
  const random = createRandom(seed);
  for (let replicate = 0; replicate < replicates; replicate++) {
    random.restart(seed, replicate);
    for (let index = 0; index < clusters; index++) picks[index] = random.integer(clusters);
    const model = clusteredModel(sums, readings, picks);
    const sd = Math.sqrt(model.variance);
    drawn.bias[replicate] = model.bias;
    drawn.sd[replicate] = sd;
    drawn.lower[replicate] = model.bias - multiplier * sd;
    drawn.upper[replicate] = model.bias + multiplier * sd;
  }
  const model = clusteredModel(sums, readings);
  const sd = Math.sqrt(model.variance);
  const estimate = (value: number, values: Float64Array): Estimate => {
    const sorted = Array.from(values.sort());
    return {
      kind: "estimate",
      value,
      low: quantileSorted(sorted, (1 - level) / 2),
      high: quantileSorted(sorted, (1 + level) / 2),
      level,
      method: "cluster-bootstrap-percentile",
    };
  };
  return {
    bias: estimate(model.bias, drawn.bias),
    sd: estimate(sd, drawn.sd),
    lower: estimate(model.bias - multiplier * sd, drawn.lower),
    upper: estimate(model.bias + multiplier * sd, drawn.upper),
  };
}
