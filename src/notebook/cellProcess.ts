// The process in which one notebook runs: the kernel's own executor, without a server.
import { createRequire } from "node:module";
import type { CellMessage, CellRequest, CompiledCell } from "./cellMessages.js";
import { dataText } from "./notebookFile.js";
import { oneLineErrors } from "./oneLineErrors.js";
import { patchConverter } from "./patchConverter.js";

interface Executor {
  execute(source: string): Promise<boolean>;
  close(): void;
}
interface Kernel {
  createConverter(options: { isJS: boolean; isBrowser: boolean }): { close(): void };
  createExecutor(
    folder: string,
    converters: { node: unknown; browser: unknown; close(): void },
    output: { log: typeof console.log; error: typeof console.error },
  ): Executor;
}

process.once("message", (request: CellRequest) => void run(request));

async function run({ folder, sources, compiled }: CellRequest): Promise<void> {
  process.chdir(folder);
  let current = 0;
  process.on("unhandledRejection", (reason) => fail(current, "a rejected promise", reason));
  process.on("uncaughtException", (reason) => fail(current, "an uncaught error", reason));
  capture(() => current);
  const executor = startExecutor(compiled && (() => compiled[current]!));
  for (const [index, source] of sources.entries()) {
    current = index;
    await send({ kind: "started", cell: index });
    if (!(await executor.execute(source))) {
      await send({ kind: "failed", cell: index });
      process.exit(1);
    }
    // lets rejections that the cell left behind come up while it is still the current one
    await new Promise((resolve) => setTimeout(resolve, 5));
  }
  executor.close();
  // complete only when nothing is left to happen; the parent's time limit ends what never ends
  process.once("beforeExit", () => void send({ kind: "complete" }).then(() => process.exit(0)));
  process.channel?.unref();
}

function startExecutor(convert?: () => CompiledCell): Executor {
  oneLineErrors();
  const require = createRequire(import.meta.url);
  const { createExecutor } = require("tslab/dist/executor.js") as Kernel;
  const node = convert ? { convert, close() {} } : startConverter(require);
  const converters = { node, browser: node, close: () => node.close() };
  return createExecutor(process.cwd(), converters, { log: console.log, error: console.error });
}

function startConverter(require: NodeJS.Require): { close(): void } {
  patchConverter();
  const { createConverter } = require("tslab/dist/converter.js") as Kernel;
  return createConverter({ isJS: false, isBrowser: false });
}

/** Sends what cells print and display to the parent. */
function capture(cell: () => number): void {
  const decoder = new TextDecoder();
  const stream = (name: "stdout" | "stderr") => (chunk: string | Uint8Array) => {
    const text = typeof chunk === "string" ? chunk : decoder.decode(chunk);
    void send({
      kind: "output",
      cell: cell(),
      output: { output_type: "stream", name, text },
    });
    return true;
  };
  process.stdout.write = stream("stdout");
  process.stderr.write = stream("stderr");
  const jupyter = createRequire(import.meta.url)("tslab/dist/jupyter.js");
  jupyter.lastWriteDisplayData = (content: { data: Record<string, string | object> }) => {
    const data = Object.fromEntries(
      Object.entries(content.data).map(([type, value]) => [type, dataText(value)]),
    );
    void send({
      kind: "output",
      cell: cell(),
      output: { output_type: "display_data", data, metadata: {} },
    });
  };
}

function fail(cell: number, what: string, reason: unknown): void {
  const message = `${what}: ${reason instanceof Error ? reason.message : String(reason)}`;
  void send({ kind: "failed", cell, message }).then(() => process.exit(1));
}

function send(message: CellMessage): Promise<void> {
  return new Promise((resolve) => process.send!(message, () => resolve()));
}
