import { parentPort, workerData } from "node:worker_threads";
import { type BlockPlan, drawBlock } from "./drawBlock.js";

parentPort?.on("message", ({ from, to }: { from: number; to: number }) => {
  const records = drawBlock(workerData as BlockPlan, from, to);
  parentPort?.postMessage({ from, records }, [records.buffer as ArrayBuffer]);
});
