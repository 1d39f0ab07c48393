import { type CellOutput, mergeStreams, type Notebook } from "../notebook/runner.js";
import { startPageThread } from "../platform/index.js";
import { InputError } from "../results/index.js";
import type { CellsMessage, SentToCells } from "./cellsMessages.js";
import type { PathAndBytes } from "./messages.js";

export interface CellThreadOptions {
  /** The worker's script. */
  readonly script: string;
  readonly packageFiles: readonly PathAndBytes[];
  /** The folder of the notebook, in the page's memory and, where files are read, on the disk. */
  readonly folder: string;
  /** Files that are there; without them, those on the disk are read. */
  readonly files?: readonly PathAndBytes[];
}

/** What a cell came to. */
export interface CellRun {
  readonly outputs: readonly CellOutput[];
  readonly failed: boolean;
  /** Where it failed, from 1, as far as it is known. */
  readonly line: number | null;
  readonly written: readonly PathAndBytes[];
}

/** The worker of a notebook's page in a thread of Node.js. */
export interface CellThread {
  /** Runs one cell after the other. @throws where the thread ends by itself */
  run(source: string): Promise<CellRun>;
  /** Files that were read from the disk, by their place in the page's memory. */
  readonly read: readonly PathAndBytes[];
  end(): Promise<void>;
}

type FromThread =
  | CellsMessage
  | { readonly kind: "read"; readonly path: string; readonly bytes: Uint8Array };

export function startCellThread({ script, ...options }: CellThreadOptions): CellThread {
  const { packageFiles, folder, files } = options;
  const thread = startPageThread<SentToCells, FromThread>(script, {
    readsFiles: files === undefined,
  });
  const read: PathAndBytes[] = [];
  let outputs: CellOutput[] = [];
  let running: { resolve(run: CellRun): void; reject(error: Error): void } | undefined;
  let ended: Error | undefined;
  thread.onEnd((error) => {
    ended = error;
    running?.reject(error);
  });
  thread.onMessage((message) => {
    if (message.kind === "read") read.push([message.path, message.bytes]);
    else if (message.kind === "output") outputs.push(message.output);
    else if (message.kind === "draw") {
      // the header of a PNG is all that is looked at here
      thread.post({ kind: "drawn", picture: message.picture, png: new Uint8Array(33) });
    } else if (message.kind === "ended") {
      const { failed, line, files: written } = message;
      running?.resolve({ outputs: mergeStreams(outputs), failed, line, written });
    }
  });
  thread.post({ kind: "begin", packageFiles, folder, files: files ?? [] });
  return {
    run: (source) =>
      new Promise((resolve, reject) => {
        if (ended) return reject(ended);
        running = { resolve, reject };
        outputs = [];
        thread.post({ kind: "run", cell: 0, source });
      }),
    read,
    end: thread.end,
  };
}

/**
 * Runs all cells of a notebook in the worker of its page.
 *
 * @returns the notebook with the outputs of this run, and the files that it read
 * @throws InputError that names the first cell which fails there, and why
 */
export async function runInPage(
  notebook: Notebook,
  { timeoutSeconds, ...options }: CellThreadOptions & { readonly timeoutSeconds: number },
): Promise<{ readonly notebook: Notebook; readonly files: readonly PathAndBytes[] }> {
  const thread = startCellThread(options);
  const outputs: (readonly CellOutput[])[] = [];
  const { cells, path } = notebook;
  try {
    for (const { source } of cells.filter(({ kind }) => kind === "code")) {
      const run = await within(timeoutSeconds, thread.run(source)).catch((error: Error) => error);
      const wrong = run instanceof Error ? run.message : run.failed ? errorText(run) : null;
      if (wrong !== null) {
        throw new InputError(
          `page requires a notebook that runs in a page, got code cell ${outputs.length + 1} of ${path}: ${wrong}`,
        );
      }
      outputs.push((run as CellRun).outputs);
    }
  } finally {
    await thread.end();
  }
  let next = 0;
  const withOutputs = cells.map((cell) =>
    cell.kind === "code" ? { ...cell, outputs: outputs[next++] } : cell,
  );
  return { notebook: { ...notebook, cells: withOutputs }, files: thread.read };
}

async function within<T>(seconds: number, work: Promise<T>): Promise<T> {
  let timer: NodeJS.Timeout | undefined;
  const late = new Promise<never>((_, reject) => {
    const error = new Error(`still running after ${seconds} s`);
    timer = setTimeout(() => reject(error), seconds * 1000);
  });
  return Promise.race([work, late]).finally(() => clearTimeout(timer));
}

function errorText({ outputs, line }: CellRun): string {
  const last = outputs.at(-1);
  const text = last?.output_type === "stream" ? last.text.trim() : "failed without a message";
  return line === null ? text : `${text} (line ${line})`;
}
