import { readFileSync } from "node:fs";
import { gunzipSync } from "node:zlib";
import type { Message, Outcomes, Sent, Task, TaskName } from "../../src/page/messages.js";
import { startPageThread } from "../../src/platform/index.js";

/** The text of a part that the built page brings along. */
export function partOfPage(id: string): Buffer {
  const page = readFileSync("dist/page/study.html", "utf8");
  const [, packed] = new RegExp(`id="${id}"[^>]*>([^<]*)<`).exec(page) ?? [];
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
  const worker = startPageThread<Sent, Message>(partOfPage("worker").toString());
  const waiting = new Map<
    number,
    { resolve: (message: Message) => void; reject: (error: Error) => void }
  >();
  let count = 0;
  let ended: Error | undefined;
  worker.onEnd((error) => {
    ended = error;
    for (const { reject } of waiting.values()) reject(error);
  });
  worker.onMessage((message) => {
    if (message.kind === "draw") {
      // the header of a PNG is all that is looked at here
      worker.post({ kind: "drawn", picture: message.picture, png: new Uint8Array(33) });
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
      worker.post({ kind: "task", id, task });
      const message = await answered;
      if (message.kind === "failed") throw new Error(message.message);
      if (message.kind !== "done") throw new Error(message.kind);
      return { outcome: message.outcome as never, files: new Map(message.files) };
    },
    end: () => worker.end(),
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
