import { parentPort, workerData } from "node:worker_threads";
import { type ReplicatePlan, replicateRunner } from "./replicates.js";

const run = replicateRunner(workerData as ReplicatePlan);
parentPort?.on("message", ({ from, to }: { from: number; to: number }) => {
  const values = run(from, to);
  parentPort?.postMessage({ from, values }, [values.buffer as ArrayBuffer]);
});
