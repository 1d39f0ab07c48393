import { isBuilt, pause, Worker, workerData } from "../../platform/index.js";
import { InputError, type RunOptions } from "../../results/index.js";
import { requireWhole } from "../../rows/index.js";
import { endThread, serveMessages } from "./endThread.js";

/** Work as plain data: runs that do not depend on each other, each from a stream of its own. */
interface ThreadedRuns<Plan> {
  readonly plan: Plan;
  /** Prepares a plan; the function it returns does the runs from (included) to (excluded). */
  readonly prepare: (plan: Plan) => RunBlock;
  /** The built worker that serves the same plan; see `serveRuns`. */
  readonly worker: URL;
  readonly runs: number;
  /** Numbers that a run gives. */
  readonly width: number;
  /** Runs in one go; between them the whole can be stopped and says how far it is. */
  readonly atOnce: number;
}

type RunBlock = (from: number, to: number) => Float64Array;

/** What a worker file does: waits for blocks of runs and answers each with its numbers. */
export function serveRuns<Plan>(prepare: (plan: Plan) => RunBlock): void {
  const run = prepare(workerData as Plan);
  serveMessages(({ from, to }: { from: number; to: number }, port) => {
    const values = run(from, to);
    port.postMessage({ from, values }, [values.buffer as ArrayBuffer]);
  });
}

/**
 * All runs of a plan, on the caller's own thread (workers: 1) or on several; the result is the same
 * for any number of them.
 */
export async function runOnThreads<Plan>(
  work: ThreadedRuns<Plan>,
  options: RunOptions & { readonly workers?: number; readonly stage: string },
): Promise<Float64Array> {
  const { plan, runs, width, atOnce } = work;
  const { workers = 1, stage, signal, onProgress } = options;
  requireWhole("a run", "workers", workers, 1);
  const out = new Float64Array(runs * width);
  let begun = 0;
  let done = 0;
  const next = (): { from: number; to: number } | null => {
    signal?.throwIfAborted();
    if (begun >= runs) return null;
    const from = begun;
    begun = Math.min(runs, from + atOnce);
    return { from, to: begun };
  };
  const take = (from: number, values: Float64Array) => {
    out.set(values, from * width);
    done += values.length / width;
    onProgress?.({ stage, done: done / runs });
  };
  if (workers === 1) {
    const run = work.prepare(plan);
    for (let block = next(); block !== null; block = next()) {
      take(block.from, run(block.from, block.to));
      await pause();
    }
    return out;
  }
  if (!isBuilt(work.worker)) {
    throw new InputError("a run on several workers requires the built package, got none in dist");
  }
  const threads = Array.from(
    { length: Math.min(workers, Math.ceil(runs / atOnce)) },
    () => new Worker(work.worker, { workerData: plan }),
  );
  try {
    await Promise.all(threads.map((thread) => serve(thread, next, take, signal)));
  } catch (error) {
    await Promise.allSettled(threads.map(endThread));
    throw error;
  }
  await Promise.all(threads.map(endThread));
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
