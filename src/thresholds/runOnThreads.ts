import { existsSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { Worker } from "node:worker_threads";
import { InputError, type RunOptions } from "../results/index.js";
import { type RunPlan, runnerOf, runsInOneGo, widthOfRun } from "./runPlan.js";

/** The built worker, found from the sources and from the built package alike. */
const workerFile = new URL("../../dist/thresholds/runWorker.js", import.meta.url);

/**
 * All runs of a plan, on the caller's own thread (workers: 1) or on several; the result is the same
 * for any number of them.
 */
export async function runOnThreads(
  plan: RunPlan,
  runs: number,
  options: RunOptions & { readonly workers?: number; readonly stage: string },
): Promise<Float64Array> {
  const { workers = 1, stage, signal, onProgress } = options;
  if (!Number.isSafeInteger(workers) || workers < 1) {
    throw new InputError(`a run requires a positive whole number of workers, got ${workers}`);
  }
  const width = widthOfRun(plan);
  const out = new Float64Array(runs * width);
  const size = runsInOneGo(plan, runs);
  let begun = 0;
  let done = 0;
  const next = (): { from: number; to: number } | null => {
    signal?.throwIfAborted();
    if (begun >= runs) return null;
    const from = begun;
    begun = Math.min(runs, from + size);
    return { from, to: begun };
  };
  const take = (from: number, values: Float64Array) => {
    out.set(values, from * width);
    done += values.length / width;
    onProgress?.({ stage, done: done / runs });
  };
  if (workers === 1) {
    const run = runnerOf(plan);
    for (let block = next(); block !== null; block = next()) {
      take(block.from, run(block.from, block.to));
      await new Promise((resolve) => setImmediate(resolve));
    }
    return out;
  }
  const file = fileURLToPath(workerFile);
  if (!existsSync(file)) {
    throw new InputError("a run on several workers requires the built package, got none in dist");
  }
  const threads = Array.from(
    { length: Math.min(workers, Math.ceil(runs / size)) },
    () => new Worker(file, { workerData: plan }),
  );
  try {
    await Promise.all(threads.map((thread) => serve(thread, next, take, signal)));
  } finally {
    await Promise.all(threads.map((thread) => thread.terminate()));
  }
  return out;
}

/** Hands one thread block after block. */
function serve(
  thread: Worker,
  next: () => { from: number; to: number } | null,
  take: (from: number, values: Float64Array) => void,
  signal: AbortSignal | undefined,
): Promise<void> {
  return new Promise((resolve, reject) => {
    const hand = () => {
      try {
        const block = next();
        if (block === null) resolve();
        else thread.postMessage(block);
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
