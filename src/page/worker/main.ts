import {
  drawWith,
  forgetFolder,
  keepInMemory,
  writtenSince,
} from "../../platform/browser/index.js";
import type { Message, Sent, Task } from "../messages.js";
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

const drawing = new Map<number, { resolve(png: Uint8Array): void; reject(error: Error): void }>();
let pictures = 0;

drawWith((svg, width) => {
  pictures++;
  const picture = pictures;
  self.postMessage({ kind: "draw", picture, svg, width });
  return new Promise((resolve, reject) => drawing.set(picture, { resolve, reject }));
});

self.addEventListener("securitypolicyviolation", ({ violatedDirective, blockedURI }) => {
  self.postMessage({ kind: "blocked", what: `${violatedDirective} ${blockedURI}` });
});

self.addEventListener("message", ({ data }) => {
  if (data.kind === "task") {
    void answer(data.id, data.task);
    return;
  }
  const waiting = drawing.get(data.picture);
  drawing.delete(data.picture);
  if (data.png !== null) waiting?.resolve(data.png);
  else waiting?.reject(new Error("a figure could not be drawn as a picture by this browser"));
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
