import { forgetFolder, keepInMemory, writtenSince } from "../../platform/browser/index.js";
import type { Message, Sent, Task } from "../messages.js";
import { askForPictures } from "./pictures.js";
import { tasks } from "./tasks.js";

/** The little of a worker's own globals that is used here. */
declare const self: {
  postMessage(message: Message): void;
  addEventListener(type: "message", listener: (event: { readonly data: Sent }) => void): void;
  addEventListener(
    type: "securitypolicyviolation",
    listener: (event: { readonly violatedDirective: string; readonly blockedURI: string }) => void,
  ): void;
};

const takePicture = askForPictures((wanted) => self.postMessage(wanted));

self.addEventListener("securitypolicyviolation", ({ violatedDirective, blockedURI }) => {
  self.postMessage({ kind: "blocked", what: `${violatedDirective} ${blockedURI}` });
});

self.addEventListener("message", ({ data }) => {
  if (data.kind === "task") {
    void answer(data.id, data.task);
    return;
  }
  takePicture(data);
});

async function answer(id: number, task: Task): Promise<void> {
  let stage = "";
  let at = 0;
  const onProgress = (progress: { readonly stage: string; readonly done: number }) => {
    // some stages tell of thousands of steps
    if (progress.stage === stage && Date.now() - at < 100) return;
    stage = progress.stage;
    at = Date.now();
    self.postMessage({ kind: "progress", ...progress });
  };
  try {
    for (const path of task.forget ?? []) forgetFolder(path);
    for (const [path, bytes] of task.files ?? []) keepInMemory(path, bytes);
    const before = writtenSince();
    const run = tasks[task.task] as (task: Task, doing: object) => Promise<unknown>;
    const outcome = await run(task, { onProgress });
    self.postMessage({ kind: "done", id, outcome, files: before() });
  } catch (error) {
    self.postMessage({ kind: "failed", id, message: (error as Error).message });
  }
}
