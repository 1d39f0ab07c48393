import { runOnThreads } from "../inference/index.js";
import { builtFile } from "../platform/index.js";
import type { RunOptions } from "../results/index.js";
import { type SearchPlan, searchRunner, widthOfSearch } from "./searchTask.js";

/** All searches of a plan, on one thread or several. */
export function runSearches(
  plan: SearchPlan,
  runs: number,
  options: RunOptions & { readonly workers?: number; readonly stage: string },
): Promise<Float64Array> {
  const work = {
    plan,
    prepare: searchRunner,
    // found from the sources and from the built package alike
    worker: builtFile("rulespace/searchWorker.js"),
    runs,
    width: widthOfSearch(plan),
    atOnce: 1,
  };
  return runOnThreads(work, options);
}
