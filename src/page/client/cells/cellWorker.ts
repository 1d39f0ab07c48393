import type { CellsMessage, SentToCells } from "../../cellsMessages.js";
import type { PathAndBytes } from "../../messages.js";
import { drawPng } from "../drawPng.js";
import { packed } from "../packed.js";

type Output = Extract<CellsMessage, { readonly kind: "output" }>["output"];
type Ended = Extract<CellsMessage, { readonly kind: "ended" }>;

/** The worker in which cells run; ending it is the way to stop one. */
export interface CellWorker {
  /** Runs a cell. @throws "stopped" where it was stopped */
  run(cell: number, source: string, onOutput: (output: Output) => void): Promise<Ended>;
  /** Ends what runs, and begins afresh: nothing that cells have declared is left. */
  restart(): void;
}

/** Starts it from the page's own text, with the files that the page brings along. */
export async function startCellWorker(
  folder: string,
  files: ReadonlyMap<string, Uint8Array>,
  onBlocked: (what: string) => void,
): Promise<CellWorker> {
  const script = (await packed("worker")) as Uint8Array<ArrayBuffer>;
  const address = URL.createObjectURL(new Blob([script], { type: "text/javascript" }));
  const packageFiles = await filesOfPackage();
  let running:
    | {
        readonly onOutput: (output: Output) => void;
        readonly resolve: (ended: Ended) => void;
        readonly reject: (error: Error) => void;
      }
    | undefined;
  let worker = start();
  return {
    run: (cell, source, onOutput) =>
      new Promise((resolve, reject) => {
        running = { onOutput, resolve, reject };
        post(worker, { kind: "run", cell, source });
      }),
    restart() {
      worker.terminate();
      running?.reject(new Error("stopped"));
      running = undefined;
      worker = start();
    },
  };

  function start(): Worker {
    const started = new Worker(address);
    started.addEventListener("message", ({ data }: MessageEvent<CellsMessage>) => {
      if (started === worker) void hear(started, data);
    });
    started.addEventListener("error", (event) => {
      event.preventDefault();
      running?.reject(new Error(event.message));
      running = undefined;
    });
    post(started, { kind: "begin", packageFiles, folder, files: [...files] });
    return started;
  }

  async function hear(from: Worker, message: CellsMessage): Promise<void> {
    switch (message.kind) {
      case "blocked":
        return onBlocked(message.what);
      case "draw": {
        const png = await drawPng(message.svg, message.width);
        return post(from, { kind: "drawn", picture: message.picture, png });
      }
      case "output":
        return running?.onOutput(message.output);
      case "ended": {
        const ended = running;
        running = undefined;
        ended?.resolve(message);
      }
    }
  }
}

function post(worker: Worker, message: SentToCells): void {
  worker.postMessage(message);
}

/** Every part of the page whose id is the name of a file of the package. */
async function filesOfPackage(): Promise<PathAndBytes[]> {
  const parts = [...document.querySelectorAll<HTMLElement>("script[data-file]")];
  return Promise.all(
    parts.map(
      async ({ id, dataset }): Promise<PathAndBytes> => [dataset.file ?? id, await packed(id)],
    ),
  );
}
