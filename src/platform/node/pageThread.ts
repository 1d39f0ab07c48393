import { Worker } from "node:worker_threads";

/** A page's worker in a thread of Node.js. */
export interface PageThread<Sent, Message> {
  post(message: Sent): void;
  onMessage(listener: (message: Message) => void): void;
  /** Tells why, where the thread ends by itself. */
  onEnd(listener: (error: Error) => void): void;
  end(): Promise<void>;
}

/**
 * Runs the script of a page's worker in a thread without what a browser does not have, so that what works
 * here works there. Files that the script misses are read from the disk, where `readsFiles` is set.
 */
export function startPageThread<Sent, Message>(
  script: string,
  { readsFiles = false }: { readonly readsFiles?: boolean } = {},
): PageThread<Sent, Message> {
  const worker = new Worker(prelude(script, readsFiles), { eval: true });
  const listeners: ((error: Error) => void)[] = [];
  const end = (error: Error) => {
    for (const listener of listeners) listener(error);
  };
  worker.on("error", end);
  worker.on("exit", (code) => end(new Error(`the worker ended with ${code}`)));
  return {
    post: (message) => worker.postMessage(message),
    onMessage: (listener) => void worker.on("message", listener),
    onEnd: (listener) => void listeners.push(listener),
    // after a rest: Node.js 20 may abort where a thread is ended while it compiles
    async end() {
      listeners.length = 0;
      await new Promise((rested) => setTimeout(rested, 300));
      await worker.terminate();
    },
  };
}

function prelude(script: string, readsFiles: boolean): string {
  return `{
    const { parentPort } = require("node:worker_threads");
    const { runInThisContext } = require("node:vm");
    const { readFileSync, statSync } = require("node:fs");
    const listen = process.on.bind(process);
    Object.assign(globalThis, {
      self: globalThis,
      importScripts() {},
      postMessage: (message) => parentPort.postMessage(message),
      addEventListener: (type, listener) => {
        if (type === "message") parentPort.on("message", (data) => listener({ data }));
        if (type === "unhandledrejection") listen("unhandledRejection", (reason) => listener({ reason }));
      },
      maker$: {
        loadScript: (text) => runInThisContext(text),
        readFile: (path) => {
          if (!${readsFiles}) return undefined;
          // on Windows a drive comes first
          const place = /^\\/[A-Za-z]:\\//.test(path) ? path.slice(1) : path;
          if (!statSync(place, { throwIfNoEntry: false })?.isFile()) return undefined;
          const bytes = new Uint8Array(readFileSync(place));
          parentPort.postMessage({ kind: "read", path, bytes });
          return bytes;
        },
      },
    });
    // what Node.js loads at its first use is loaded while it finds what it needs
    for (const name of Object.getOwnPropertyNames(globalThis)) void globalThis[name];
    for (const name of ["Buffer", "process", "setImmediate", "require", "module", "exports", "global"]) {
      delete globalThis[name];
    }
    const evaluate = (0, eval);
    const refuse = function () {
      throw new EvalError("code made from text is refused by the policy of a page");
    };
    refuse.prototype = Function.prototype;
    globalThis.eval = globalThis.Function = refuse.prototype.constructor = refuse;
    evaluate(${JSON.stringify(`(() => { const require = undefined; ${script} })()`)});
  }`;
}
