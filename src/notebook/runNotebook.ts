import { fork } from "node:child_process";
import { dirname, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import type { CellMessage } from "./cellMessages.js";
import { machinePath } from "./machinePath.js";
import type { NotebookCompiler } from "./notebookCompiler.js";
import { type CellOutput, mergeStreams, type Notebook } from "./notebookFile.js";

/** A notebook's run: complete with all outputs, or the first cell that failed. */
export type NotebookRun =
  | { readonly kind: "complete"; readonly notebook: Notebook; readonly seconds: number }
  | {
      readonly kind: "failed";
      /** Number of the code cell, from 1. */
      readonly cell: number;
      readonly source: string;
      readonly message: string;
      readonly seconds: number;
    };

/**
 * Runs a notebook from top to bottom without a server: the kernel's own executor in a process of
 * its own. Fails at the first cell that throws, does not compile, leaves a rejected promise, ends
 * the process, outlasts the limit, or prints a path of this machine.
 *
 * @param options.timeoutSeconds limit for one cell, 120 by default
 * @param options.compiler a compiler that several notebooks share, by default one of its own
 */
export async function runNotebook(
  notebook: Notebook,
  { timeoutSeconds = 120, compiler }: { timeoutSeconds?: number; compiler?: NotebookCompiler } = {},
): Promise<NotebookRun> {
  const sources = notebook.cells.filter(({ kind }) => kind === "code").map(({ source }) => source);
  const outputs: CellOutput[][] = sources.map(() => []);
  const began = performance.now();
  const folder = resolve(dirname(notebook.path));
  const compiled = await compiler?.compile(folder, sources);
  const child = fork(fileURLToPath(new URL("./cellProcess.js", import.meta.url)), {
    stdio: ["ignore", "pipe", "pipe", "ipc"],
    execArgv: [],
    env: { ...process.env, NODE_NO_WARNINGS: "1" },
  });
  let current = 0;
  let outcome: { message: string } | "complete" | undefined;
  let timer: NodeJS.Timeout | undefined;
  const watch = (seconds: number) => {
    clearTimeout(timer);
    timer = setTimeout(() => {
      outcome ??= { message: `still running after ${seconds} s` };
      child.kill("SIGKILL");
    }, seconds * 1000);
  };
  // the kernel's own start is not the first cell's fault
  watch(Math.max(timeoutSeconds, 120));
  child.on("message", (message: CellMessage) => {
    if (message.kind === "output") outputs[message.cell]!.push(message.output);
    else if (message.kind === "complete") outcome ??= "complete";
    else {
      current = message.cell;
      watch(timeoutSeconds);
      if (message.kind === "failed") {
        outcome ??= { message: message.message ?? errorText(outputs[current]!) };
      }
    }
  });
  let stray = "";
  child.stderr!.on("data", (chunk) => {
    stray += chunk;
  });
  child.send({ folder, sources, compiled });
  return new Promise((done) => {
    child.on("close", (code, signal) => {
      clearTimeout(timer);
      const seconds = (performance.now() - began) / 1000;
      const failed = (cell: number, message: string): NotebookRun => {
        return { kind: "failed", cell: cell + 1, source: sources[cell] ?? "", message, seconds };
      };
      outcome ??= {
        message:
          `the process ended (${signal ?? `exit code ${code}`}) before the notebook was ` +
          `complete${stray === "" ? "" : `: ${stray.trim().split("\n").at(-1)}`}`,
      };
      if (outcome !== "complete") return done(failed(current, outcome.message));
      const merged = outputs.map(mergeStreams);
      for (const [cell, list] of merged.entries()) {
        const path = machinePath(JSON.stringify(list));
        if (path) return done(failed(cell, `an output holds a path of this machine (${path})`));
      }
      done({ kind: "complete", notebook: withOutputs(notebook, merged), seconds });
    });
  });
}

/** An assertion may print the whole of what it compared. */
const mostLines = 20;

/** What the failing cell wrote to stderr. */
function errorText(outputs: readonly CellOutput[]): string {
  const text = outputs
    .map((output) =>
      output.output_type === "stream" && output.name === "stderr" ? output.text : "",
    )
    .join("");
  if (text.trim() === "") return "failed without a message";
  const lines = text.trimEnd().split("\n");
  const left = lines.length - mostLines;
  return left > 0
    ? [...lines.slice(0, mostLines), `(${left} more lines)`].join("\n")
    : lines.join("\n");
}

function withOutputs(notebook: Notebook, outputs: readonly CellOutput[][]): Notebook {
  let next = 0;
  const cells = notebook.cells.map((cell) =>
    cell.kind === "code" ? { ...cell, outputs: outputs[next++]! } : cell,
  );
  return { ...notebook, cells };
}
