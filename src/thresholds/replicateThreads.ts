import { runOnThreads } from "../inference/index.js";
import { builtFile } from "../platform/index.js";
import type { RunOptions } from "../results/index.js";
import { type ReplicatePlan, replicateRunner, widthOf } from "./replicates.js";

/** All replicates of a plan, on one thread or several. */
export function runReplicates(
  plan: ReplicatePlan,
  replicates: number,
  options: RunOptions & { readonly workers?: number; readonly stage: string },
): Promise<Float64Array> {
  const work = {
    plan,
    prepare: replicateRunner,
    // found from the sources and from the built package alike
    worker: builtFile("thresholds/replicateWorker.js"),
    runs: replicates,
    width: widthOf(plan.task),
    atOnce: Math.max(1, Math.ceil(replicates / 50)),
  };
  return runOnThreads(work, options);
}
