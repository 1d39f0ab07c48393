import { serveMessages } from "../inference/index.js";
import { workerData } from "../platform/index.js";
import { type BlockPlan, drawBlock } from "./drawBlock.js";

serveMessages(({ from, to }: { from: number; to: number }, port) => {
  const records = drawBlock(workerData as BlockPlan, from, to);
  port.postMessage({ from, records }, [records.buffer as ArrayBuffer]);
});
