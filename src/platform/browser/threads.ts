import { InputError } from "../../results/index.js";

/** A page works in one thread beside the one that shows it; the results are the same for any number. */
export class Worker {
  constructor() {
    throw new InputError("a page requires one worker, got several; leave workers out");
  }
}

export const { MessageChannel, MessagePort } = globalThis;
export const parentPort = null;
export const workerData: unknown = undefined;

export function receiveMessageOnPort(): undefined {
  return undefined;
}
