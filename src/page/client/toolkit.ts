import type { Message, Outcomes, PathAndBytes, Sent, Task, TaskName } from "../messages.js";
import { drawPng } from "./drawPng.js";
import { packed } from "./packed.js";

/** The worker behind the page, and the files that its memory holds. */
export interface Toolkit {
  /** Asks for a task. @throws with the task's own words; "stopped" where it was stopped */
  ask<Name extends TaskName>(
    task: Extract<Task, { readonly task: Name }>,
    onProgress?: (stage: string, done: number) => void,
  ): Promise<Outcomes[Name]>;
  /** Ends what is being worked on; what was done before stays. */
  stop(): Promise<void>;
  readonly files: ReadonlyMap<string, Uint8Array>;
  put(path: string, bytes: Uint8Array): void;
  /** Forgets the files of a folder. */
  forget(folder: string): void;
}

interface Waiting {
  resolve(outcome: unknown): void;
  reject(error: Error): void;
  readonly onProgress: (stage: string, done: number) => void;
}

/** Starts the worker from the page's own text: nothing else can be loaded from here. */
export async function startToolkit(onBlocked: (what: string) => void): Promise<Toolkit> {
  const files = new Map<string, Uint8Array>();
  const fresh = new Map<string, Uint8Array>();
  let forgotten: string[] = [];
  const waiting = new Map<number, Waiting>();
  let count = 0;
  const address = URL.createObjectURL(
    new Blob([(await packed("worker")) as Uint8Array<ArrayBuffer>], { type: "text/javascript" }),
  );
  const packageFiles: PathAndBytes[] = [
    ["src/figures/fonts/SourceSans3-Regular.ttf", await packed("font-regular")],
    ["src/figures/fonts/SourceSans3-Semibold.ttf", await packed("font-semibold")],
    ["package.json", await packed("version")],
  ];
  let worker = start();
  return {
    async ask(task, onProgress = () => {}) {
      count++;
      const id = count;
      const sent = { ...task, forget: forgotten, files: [...fresh] };
      forgotten = [];
      fresh.clear();
      return new Promise((resolve, reject) => {
        waiting.set(id, { resolve: resolve as (outcome: unknown) => void, reject, onProgress });
        post({ kind: "task", id, task: sent });
      });
    },
    async stop() {
      worker.terminate();
      for (const { reject } of waiting.values()) reject(new Error("stopped"));
      waiting.clear();
      for (const [path, bytes] of files) fresh.set(path, bytes);
      worker = start();
    },
    files,
    put(path, bytes) {
      files.set(path, bytes);
      fresh.set(path, bytes);
    },
    forget(folder) {
      for (const held of [files, fresh]) {
        for (const path of [...held.keys()]) if (path.startsWith(`${folder}/`)) held.delete(path);
      }
      forgotten.push(folder);
    },
  };

  function post(message: Sent): void {
    worker.postMessage(message);
  }

  function start(): Worker {
    const started = new Worker(address);
    started.addEventListener("message", ({ data }: MessageEvent<Message>) => hear(started, data));
    started.addEventListener("error", (event) => {
      event.preventDefault();
      for (const { reject } of waiting.values()) reject(new Error(event.message));
      waiting.clear();
    });
    const begin: Sent = { kind: "task", id: 0, task: { task: "begin", packageFiles } };
    started.postMessage(begin);
    return started;
  }

  async function hear(from: Worker, message: Message): Promise<void> {
    switch (message.kind) {
      case "progress":
        for (const { onProgress } of waiting.values()) onProgress(message.stage, message.done);
        return;
      case "blocked":
        onBlocked(message.what);
        return;
      case "draw": {
        const png = await drawPng(message.svg, message.width);
        const drawn: Sent = { kind: "drawn", picture: message.picture, png };
        from.postMessage(drawn);
        return;
      }
      default: {
        const asked = waiting.get(message.id);
        waiting.delete(message.id);
        if (message.kind === "failed") return asked?.reject(new Error(message.message));
        for (const [path, bytes] of message.files) files.set(path, bytes);
        asked?.resolve(message.outcome);
      }
    }
  }
}
