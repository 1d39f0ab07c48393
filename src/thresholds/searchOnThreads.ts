import { existsSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { Worker } from "node:worker_threads";
import { InputError, type RunOptions } from "../results/index.js";
import { type SearchPlan, searchRunner, widthOfSearch } from "./searchTask.js";

/** The built worker, found from the sources and from the built package alike. */
const workerFile = new URL("../../dist/thresholds/searchWorker.js", import.meta.url);

/** All runs of a search plan, on the caller's thread or on several; the same for any number. */
export async function searchOnThreads(
  plan: SearchPlan,
  runs: number,
  options: RunOptions & { readonly workers?: number; readonly stage: string },
): Promise<Float64Array> {
  const { workers = 1, stage, signal, onProgress } = options;
  const width = widthOfSearch(plan);
  const out = new Float64Array(runs * width);
  let begun = 0;
  let done = 0;
  const next = (): number | null => {
    signal?.throwIfAborted();
    return begun < runs ? begun++ : null;
  };
  const take = (at: number, values: Float64Array) => {
    out.set(values, at * width);
    done++;
    onProgress?.({ stage, done: done / runs });
  };
  if (workers === 1) {
    const run = searchRunner(plan);
    let rested = performance.now();
    for (let at = next(); at !== null; at = next()) {
      take(at, run(at, at + 1));
      if (performance.now() - rested < 20) continue;
      await new Promise((resolve) => setImmediate(resolve));
      rested = performance.now();
    }
    return out;
  }
  const file = fileURLToPath(workerFile);
  if (!existsSync(file)) {
    throw new InputError("searchRules on several workers requires the built package, got no dist");
  }
  const threads = Array.from(
    { length: Math.min(workers, runs) },
    () => new Worker(file, { workerData: plan }),
  );
  try {
    await Promise.all(threads.map((thread) => serve(thread, next, take, signal)));
  } finally {
    await Promise.all(threads.map((thread) => thread.terminate()));
  }
  return out;
}

/** Hands one thread run after run. */
function serve(
  thread: Worker,
  next: () => number | null,
  take: (at: number, values: Float64Array) => void,
  signal: AbortSignal | undefined,
): Promise<void> {
  return new Promise((resolve, reject) => {
    const hand = () => {
      try {
        const at = next();
        if (at === null) resolve();
        else thread.postMessage({ from: at, to: at + 1 });
      } catch (error) {
        reject(error);
      }
    };
    thread.on("message", ({ from, values }: { from: number; values: Float64Array }) => {
      take(from, values);
      hand();
    });
    thread.on("error", reject);
    signal?.addEventListener("abort", () => reject(signal.reason), { once: true });
    hand();
  });
}
