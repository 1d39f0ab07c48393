import { existsSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { Worker } from "node:worker_threads";
import { InputError, type RunOptions } from "../results/index.js";
import { type ReplicatePlan, replicateRunner, widthOf } from "./replicates.js";

/** The built worker, found from the sources and from the built package alike. */
const workerFile = new URL("../../dist/thresholds/replicateWorker.js", import.meta.url);

/** Replicates in one go; between them a run can be stopped and says how far it is. */
const blocks = 50;

/**
 * All replicates of a plan, on the caller's own thread (workers: 1) or on several; the result is
 * the same for any number of them.
 */
export async function runOnThreads(
  plan: ReplicatePlan,
  replicates: number,
  options: RunOptions & { readonly workers?: number; readonly stage: string },
): Promise<Float64Array> {
  const { workers = 1, stage, signal, onProgress } = options;
  if (!Number.isSafeInteger(workers) || workers < 1) {
    throw new InputError(`a run requires a positive whole number of workers, got ${workers}`);
  }
  const out = new Float64Array(replicates * widthOf(plan.task));
  const size = Math.max(1, Math.ceil(replicates / blocks));
  let begun = 0;
  let done = 0;
  const next = (): { from: number; to: number } | null => {
    signal?.throwIfAborted();
    if (begun >= replicates) return null;
    const from = begun;
    begun = Math.min(replicates, from + size);
    return { from, to: begun };
  };
  const take = (from: number, values: Float64Array) => {
    out.set(values, from * widthOf(plan.task));
    done += values.length / widthOf(plan.task);
    onProgress?.({ stage, done: done / replicates });
  };
  if (workers === 1) {
    const run = replicateRunner(plan);
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
  const threads = Array.from({ length: workers }, () => new Worker(file, { workerData: plan }));
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
