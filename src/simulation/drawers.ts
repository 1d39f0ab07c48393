import { endThread } from "../inference/index.js";
import { builtFile, runsBuilt, Worker } from "../platform/index.js";
import type { BlockPlan } from "./drawBlock.js";

/** Threads that draw blocks of children. */
interface Drawers {
  draw(from: number, to: number): Promise<Float64Array>;
  stop(): Promise<void>;
}

interface Waiting {
  resolve(records: Float64Array): void;
  reject(error: Error): void;
}

/**
 * Starts threads that draw blocks in turn; null when the sources run uncompiled, as in the unit
 * tests, where a thread could not load them: the blocks are then drawn by the caller.
 */
export function startDrawers(plan: BlockPlan, count: number): Drawers | null {
  if (!runsBuilt()) return null;
  const waiting = new Map<number, Waiting>();
  const threads = Array.from({ length: count }, () => {
    const thread = new Worker(builtFile("simulation/drawWorker.js"), { workerData: plan });
    thread.on("message", ({ from, records }: { from: number; records: Float64Array }) => {
      waiting.get(from)?.resolve(records);
      waiting.delete(from);
    });
    thread.on("error", (error: Error) => {
      for (const { reject } of waiting.values()) reject(error);
      waiting.clear();
    });
    return thread;
  });
  let turn = 0;
  return {
    draw(from, to) {
      const records = new Promise<Float64Array>((resolve, reject) => {
        waiting.set(from, { resolve, reject });
      });
      records.catch(() => {});
      threads[turn++ % count].postMessage({ from, to });
      return records;
    },
    async stop() {
      await Promise.allSettled(threads.map(endThread));
    },
  };
}
