import { quantileSorted, sampleStandardDeviation } from "simple-statistics";
import type { ResampleUnits } from "../../inference/index.js";
import { type RunOptions, type Undefined, undefinedBecause } from "../../results/index.js";
import { type PositiveWhen, requireNoSites, requireWhole } from "../../rows/index.js";
import { countByValue, type ValueCounts } from "../countByValue.js";
import { prepareRows, type ThresholdRows, valueCountsOf } from "../prepareRows.js";
import { type ReplicatePlan, replicateRunner } from "../replicates.js";
import { runReplicates } from "../replicateThreads.js";
import { unitsOfCounts } from "../unitsOfCounts.js";
import type { AreaEstimate } from "./areaEstimate.js";
import { placements } from "./placements.js";

export interface AreaBootstrapOptions {
  readonly positiveWhen: PositiveWhen;
  readonly seed: number;
  /** 2000 by default. */
  readonly replicates?: number;
  /** 0.95 by default. */
  readonly level?: number;
}

/** An area with its bootstrap. */
export interface AreaBootstrap extends AreaEstimate {
  readonly replicates: number;
  readonly seed: number;
  /** Replicates that lacked a class; the interval is of the others. */
  readonly failed: number;
}

/** Area with a percentile bootstrap interval; see `areaUnderCurve`. */
export function areaByBootstrap(
  caller: string,
  data: ThresholdRows,
  options: AreaBootstrapOptions,
): AreaBootstrap | Undefined {
  const { plan, replicates, finish } = prepare(caller, data, options);
  return finish(replicateRunner(plan)(0, replicates));
}

/**
 * `areaUnderCurve` with a bootstrap interval on several threads (`workers`, 2 by default), with
 * progress and cancellation. The result is that of `areaUnderCurve(data, { interval: "bootstrap" })`
 * with the same seed, for any number of threads.
 *
 * An area is a proportion, 0 to 1.
 *
 * @example
 * (await areaUnderCurveOnThreads({ values: [1, 2, 3, 3, 4, 5], condition: [0, 0, 0, 1, 1, 1] }, { positiveWhen: "high", seed: 1, workers: 1 })).value // => 0.9444
 */
export async function areaUnderCurveOnThreads(
  data: ThresholdRows,
  options: AreaBootstrapOptions & RunOptions & { readonly workers?: number },
): Promise<AreaBootstrap | Undefined> {
  const { plan, replicates, finish } = prepare("areaUnderCurveOnThreads", data, options);
  const run = { workers: 2, ...options, stage: "bootstrap" };
  return finish(await runReplicates(plan, replicates, run));
}

function prepare(caller: string, data: ThresholdRows, options: AreaBootstrapOptions) {
  const { seed, replicates = 2000, level = 0.95 } = options;
  requireWhole(caller, "replicates", replicates, 2);
  requireWhole(caller, "seed", seed);
  const { counts, units, subjects } = gather(caller, data, options.positiveWhen);
  const plan: ReplicatePlan = { seed, firstStream: 0, units, task: { kind: "area" } };
  const finish = (areas: Float64Array): AreaBootstrap | Undefined => {
    const found = Array.from(areas.filter(Number.isFinite).sort());
    const failed = replicates - found.length;
    if (failed > replicates / 20) {
      return undefinedBecause(`${failed} of ${replicates} resamples lacked a class`);
    }
    return {
      kind: "estimate",
      value: placements(counts).area,
      low: quantileSorted(found, (1 - level) / 2),
      high: quantileSorted(found, (1 + level) / 2),
      level,
      method: subjects === undefined ? "bootstrap-percentile" : "cluster-bootstrap-percentile",
      se: sampleStandardDeviation(found),
      n: counts.n,
      withCondition: counts.totalWith,
      withoutCondition: counts.totalWithout,
      ...(subjects === undefined ? {} : { subjects }),
      positiveWhen: counts.positiveWhen,
      replicates,
      seed,
      failed,
    };
  };
  return { plan, replicates, finish };
}

function gather(
  caller: string,
  data: ThresholdRows,
  positiveWhen: PositiveWhen,
): {
  readonly counts: ValueCounts;
  readonly units: ResampleUnits;
  readonly subjects?: number;
} {
  requireNoSites(caller, data, 'take the interval "logit" of areaUnderCurve');
  const { subjects, weights, examination, strata } = data;
  if (subjects ?? weights ?? examination ?? strata) {
    const rows = prepareRows(caller, data, positiveWhen);
    return { counts: valueCountsOf(rows), units: rows.units, subjects: rows.clusters?.count };
  }
  const counts = countByValue(caller, data, positiveWhen);
  return { counts, units: unitsOfCounts(counts) };
}
