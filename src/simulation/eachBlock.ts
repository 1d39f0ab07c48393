import { pause } from "../platform/index.js";
import type { RunOptions } from "../results/index.js";
import { type BlockPlan, drawBlock } from "./drawBlock.js";
import { startDrawers } from "./drawers.js";

const blockSize = 8192;

/**
 * Draws all children block by block and hands each block on, in the order of the children whatever
 * the number of workers. Workers only draw; rules, being functions, run in the caller's thread.
 */
export async function eachBlock(
  plan: BlockPlan,
  children: number,
  { signal, onProgress, workers = 1 }: RunOptions & { readonly workers?: number },
  handle: (records: Float64Array, from: number, to: number) => void,
): Promise<void> {
  const starts: number[] = [];
  for (let from = 0; from < children; from += blockSize) starts.push(from);
  const end = (from: number) => Math.min(children, from + blockSize);
  const drawers = workers > 1 ? startDrawers(plan, Math.min(workers, starts.length)) : null;
  const ahead = drawers === null ? 0 : 2 * workers;
  const drawn = new Map<number, Promise<Float64Array>>();
  try {
    for (let block = 0; block < starts.length; block++) {
      signal?.throwIfAborted();
      const from = starts[block];
      for (let next = block; drawers !== null && next <= block + ahead; next++) {
        const start = starts[next];
        if (start !== undefined && !drawn.has(start)) {
          drawn.set(start, drawers.draw(start, end(start)));
        }
      }
      const records = await (drawn.get(from) ?? drawBlock(plan, from, end(from)));
      drawn.set(from, spent);
      handle(records, from, end(from));
      onProgress?.({ stage: "simulating children", done: end(from) / children });
      await pause();
    }
  } finally {
    await drawers?.stop();
  }
}

const spent = Promise.resolve(new Float64Array(0));
