import { parentPort, workerData } from "node:worker_threads";
import { type RunPlan, runnerOf } from "./runPlan.js";

const run = runnerOf(workerData as RunPlan);
parentPort?.on("message", ({ from, to }: { from: number; to: number }) => {
  const values = run(from, to);
  parentPort?.postMessage({ from, values }, [values.buffer as ArrayBuffer]);
});
