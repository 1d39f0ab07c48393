import {
  builtFile,
  isBuilt,
  MessageChannel,
  receiveMessageOnPort,
  Worker,
} from "../../platform/index.js";
import type { ChartRequest } from "./chartServer.js";

const patienceMs = 60_000;
let worker: Worker | undefined;

/**
 * Where the running kernel gives a chart to the page: on this machine alone, under a name that nobody can
 * guess, for as long as the kernel runs. Null where no thread can be started.
 */
export function chartAddress(spec: { readonly [key: string]: unknown }): string | null {
  const file = builtFile("notebook/live/chartServer.js");
  if (!isBuilt(file)) return null;
  worker ??= startWorker(file);
  const { port1, port2 } = new MessageChannel();
  const done = new Int32Array(new SharedArrayBuffer(4));
  const request: ChartRequest = { spec, port: port2, done };
  worker.postMessage(request, [port2]);
  Atomics.wait(done, 0, 0, patienceMs);
  const answer = receiveMessageOnPort(port1)?.message as { address: string | null } | undefined;
  port1.close();
  return answer?.address ?? null;
}

function startWorker(file: URL): Worker {
  const started = new Worker(file, { execArgv: [] });
  // the kernel ends when its own work does
  started.unref();
  return started;
}
