import { readFileSync } from "node:fs";
import { Worker } from "node:worker_threads";
import { gunzipSync } from "node:zlib";
import type { Message, Outcomes, Sent, Task, TaskName } from "../../src/page/messages.js";

/** The text of a part that the built page brings along. */
export function partOfPage(id: string): Buffer {
  const page = readFileSync("dist/page/study.html", "utf8");
  const [, packed] = new RegExp(`id="${id}">([^<]*)<`).exec(page) ?? [];
  if (packed === undefined) throw new Error(`the built page has no part ${id}`);
  return gunzipSync(Buffer.from(packed, "base64"));
}

/** A page's worker in a thread of Node.js, without what a browser does not have. */
export function startPageWorker(): {
  ask<Name extends TaskName>(
    task: Extract<Task, { readonly task: Name }>,
  ): Promise<{ outcome: Outcomes[Name]; files: ReadonlyMap<string, Uint8Array> }>;
  end(): Promise<unknown>;
} {
  const prelude = `
    const { parentPort } = require("node:worker_threads");
    Object.assign(globalThis, {
      self: globalThis,
      importScripts() {},
      postMessage: (message) => parentPort.postMessage(message),
      addEventListener: (type, listener) => {
        if (type === "message") parentPort.on("message", (data) => listener({ data }));
      },
    });
    // what Node.js loads at its first use is loaded while it finds what it needs
    for (const name of Object.getOwnPropertyNames(globalThis)) void globalThis[name];
    for (const name of ["Buffer", "process", "setImmediate", "require", "module", "exports", "global"]) {
      delete globalThis[name];
    }
    const evaluate = (0, eval);
    globalThis.eval = globalThis.Function = undefined;
    evaluate(${JSON.stringify(`(() => { const require = undefined; ${partOfPage("worker").toString()} })()`)});`;
  const worker = new Worker(prelude, { eval: true });
  const waiting = new Map<
    number,
    { resolve: (message: Message) => void; reject: (error: Error) => void }
  >();
  let count = 0;
  worker.on("error", (error) => {
    for (const { reject } of waiting.values()) reject(error);
  });
  let ended: Error | undefined;
  worker.on("exit", (code) => {
    ended = new Error(`the worker ended with ${code}`);
    for (const { reject } of waiting.values()) reject(ended);
  });
  worker.on("message", (message: Message) => {
    if (message.kind === "draw") {
      // the header of a PNG is all that is looked at here
      const png = new Uint8Array(33);
      const drawn: Sent = { kind: "drawn", picture: message.picture, png };
      worker.postMessage(drawn);
    } else if (message.kind === "done" || message.kind === "failed") {
      waiting.get(message.id)?.resolve(message);
    }
  });
  return {
    async ask(task) {
      if (ended) throw ended;
      count++;
      const id = count;
      const answered = new Promise<Message>((resolve, reject) => {
        waiting.set(id, { resolve, reject });
      });
      const sent: Sent = { kind: "task", id, task };
      worker.postMessage(sent);
      const message = await answered;
      if (message.kind === "failed") throw new Error(message.message);
      if (message.kind !== "done") throw new Error(message.kind);
      return { outcome: message.outcome as never, files: new Map(message.files) };
    },
    // after a rest: Node.js 20 may abort where a thread is ended while it compiles
    end: async () => {
      await new Promise((rested) => setTimeout(rested, 300));
      await worker.terminate();
    },
  };
}

/** What a worker is given first: fonts and the version. */
export function packageFilesOfPage(): [string, Uint8Array][] {
  return [
    ["src/figures/fonts/SourceSans3-Regular.ttf", partOfPage("font-regular")],
    ["src/figures/fonts/SourceSans3-Semibold.ttf", partOfPage("font-semibold")],
    ["package.json", partOfPage("version")],
  ];
}
