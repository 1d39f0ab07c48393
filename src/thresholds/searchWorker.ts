import { parentPort, workerData } from "node:worker_threads";
import { type SearchPlan, searchRunner } from "./searchTask.js";

const run = searchRunner(workerData as SearchPlan);
parentPort?.on("message", ({ from, to }: { from: number; to: number }) => {
  const values = run(from, to);
  parentPort?.postMessage({ from, values }, [values.buffer as ArrayBuffer]);
});
