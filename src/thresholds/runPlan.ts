import { type ReplicatePlan, replicateRunner, widthOf } from "./replicates.js";
import { type SearchPlan, searchRunner, widthOfSearch } from "./searchTask.js";

/** Runs as plain data, each from a stream of its own: replicates of a cut-off, or whole searches. */
export type RunPlan =
  | { readonly kind: "replicates"; readonly plan: ReplicatePlan }
  | { readonly kind: "search"; readonly plan: SearchPlan };

/** Prepares a plan; the function it returns does the runs from (included) to (excluded). */
export function runnerOf(run: RunPlan): (from: number, to: number) => Float64Array {
  return run.kind === "search" ? searchRunner(run.plan) : replicateRunner(run.plan);
}

/** Numbers that a run gives. */
export function widthOfRun(run: RunPlan): number {
  return run.kind === "search" ? widthOfSearch(run.plan) : widthOf(run.plan.task);
}

/** Runs in one go; between them the whole can be stopped and says how far it is. */
export function runsInOneGo(run: RunPlan, runs: number): number {
  return run.kind === "search" ? 1 : Math.max(1, Math.ceil(runs / 50));
}
