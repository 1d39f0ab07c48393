import {
  builtFile,
  MessageChannel,
  type MessagePort,
  receiveMessageOnPort,
  Worker,
} from "../../platform/index.js";
import { type FigureSpec, InputError } from "../../results/index.js";

/** What the drawing thread is asked. */
export interface RenderRequest {
  readonly figure: FigureSpec;
  readonly dpi: number;
  readonly port: MessagePort;
  /** Set to 1 when the answer lies in the port. */
  readonly done: Int32Array;
}

type Answer =
  | { readonly kind: "drawn"; readonly svg: string; readonly png: Uint8Array }
  | { readonly kind: "failed"; readonly message: string };

const patienceMs = 60_000;
let worker: Worker | undefined;

/**
 * Draws a figure while the caller waits, as a notebook cell needs it: a thread of its own draws
 * (in the built package, so that the chart libraries stay out of this one), this one sleeps.
 *
 * @param dpi dots per inch of the PNG; 192 by default
 * @throws when the figure cannot be drawn
 */
export function renderSync(
  figure: FigureSpec,
  { dpi = 192 }: { readonly dpi?: number } = {},
): { readonly svg: string; readonly png: Uint8Array } {
  worker ??= startWorker();
  const { port1, port2 } = new MessageChannel();
  const done = new Int32Array(new SharedArrayBuffer(4));
  const request: RenderRequest = { figure, dpi, port: port2, done };
  worker.postMessage(request, [port2]);
  const waited = Atomics.wait(done, 0, 0, patienceMs);
  const answer = receiveMessageOnPort(port1)?.message as Answer | undefined;
  port1.close();
  if (answer === undefined) {
    worker = undefined;
    throw new InputError(`renderSync requires an answer within 60 s, got ${waited}`);
  }
  if (answer.kind === "failed") {
    throw new InputError(`renderSync requires a figure that can be drawn, got ${answer.message}`);
  }
  return answer;
}

function startWorker(): Worker {
  const started = new Worker(builtFile("figures/render/renderWorker.js"), {
    // flags of this process, such as those of a one-line program, are not for the thread
    execArgv: [],
  });
  started.unref();
  return started;
}
