import { type ChildProcess, fork } from "node:child_process";
import { fileURLToPath } from "node:url";
import type { CompiledCell, CompileRequest } from "./cellMessages.js";

/** Compiles the cells of notebooks ahead, by one process a folder. */
export interface NotebookCompiler {
  /** The cells compiled, or nothing where the notebook's own process must compile them. */
  compile(folder: string, sources: readonly string[]): Promise<readonly CompiledCell[] | undefined>;
  close(): void;
}

/**
 * A compiler for several notebooks. What a cell is compiled to follows from the cells before it alone,
 * so it can be known ahead. It does not where a cell holds an error (an earlier cell may write the file
 * that it imports), is a module, or imports a source file: such a notebook compiles in its own process,
 * and the next one meets a fresh compiler.
 */
export function notebookCompiler(): NotebookCompiler {
  const started = new Map<string, ChildProcess>();
  let last: Promise<unknown> = Promise.resolve();
  const compileNow = async (folder: string, sources: readonly string[]) => {
    const child = started.get(folder) ?? startIn(folder);
    started.set(folder, child);
    const cells = await answer(child, { sources });
    if (cells !== null) return cells;
    started.delete(folder);
    child.kill();
  };
  return {
    compile(folder, sources) {
      const next = last.then(() => compileNow(folder, sources));
      last = next;
      return next;
    },
    close() {
      for (const child of started.values()) child.kill();
    },
  };
}

function startIn(folder: string): ChildProcess {
  return fork(fileURLToPath(new URL("./compilerProcess.js", import.meta.url)), {
    cwd: folder,
    stdio: ["ignore", "ignore", "ignore", "ipc"],
    execArgv: [],
  });
}

/** What the process sends back; nothing where it ends before. */
function answer(child: ChildProcess, request: CompileRequest): Promise<CompiledCell[] | null> {
  return new Promise((done) => {
    const ended = () => done(null);
    child.once("close", ended);
    child.once("message", (cells: CompiledCell[] | null) => {
      child.off("close", ended);
      done(cells);
    });
    child.send(request, (problem) => problem && done(null));
  });
}
