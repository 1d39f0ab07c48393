import { setImmediate as breathe } from "node:timers/promises";
import type { RunOptions } from "../results/index.js";
import { type BlockPlan, drawBlock } from "./drawBlock.js";

const blockSize = 8192;

/** Draws all children block by block, in order, and hands each block on. */
export async function eachBlock(
  plan: BlockPlan,
  children: number,
  { signal, onProgress }: RunOptions,
  handle: (records: Float64Array, from: number, to: number) => void,
): Promise<void> {
  for (let from = 0; from < children; from += blockSize) {
    signal?.throwIfAborted();
    const to = Math.min(children, from + blockSize);
    handle(drawBlock(plan, from, to), from, to);
    onProgress?.({ stage: "simulating children", done: to / children });
    await breathe();
  }
}
