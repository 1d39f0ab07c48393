import { existsSync, readdirSync } from "node:fs";
import { availableParallelism } from "node:os";
import { basename, join } from "node:path";
import { type Command, InvalidArgumentError, Option } from "commander";
import type { NotebookCompiler } from "../notebook/runner.js";
import { InputError } from "../results/index.js";
import { jsonText } from "../text/index.js";

interface Options {
  readonly check?: true;
  readonly write?: true;
  readonly clear?: true;
  readonly timeout: number;
  readonly json?: true;
}

/** `meridional notebooks`: runs notebooks without a server. */
export function registerNotebooks(program: Command): void {
  program
    .command("notebooks")
    .description("run notebooks from top to bottom, without a notebook server")
    .argument("[files...]", "notebooks, by default all of the folder notebooks/")
    .addOption(new Option("--check", "compare with the outputs saved in the file"))
    .addOption(new Option("--write", "save the outputs into the file").conflicts("check"))
    .addOption(
      new Option("--clear", "remove all outputs, without running").conflicts(["check", "write"]),
    )
    .option("--timeout <seconds>", "limit for one cell", positive, 120)
    .action((files: string[], _options: object, command: Command) =>
      run(files, command.optsWithGlobals()),
    );
}

async function run(files: readonly string[], options: Options): Promise<void> {
  const waiting = files.length > 0 ? [...files] : notebooksHere();
  const reports: Report[] = [];
  const { notebookCompiler } = await import("../notebook/runner.js");
  const compiler = notebookCompiler();
  const worker = async () => {
    for (let path = waiting.shift(); path !== undefined; path = waiting.shift()) {
      const report = await runOne(path, options, compiler);
      reports.push(report);
      if (!options.json) console.log(reportText(report));
    }
  };
  await Promise.all(Array.from({ length: Math.min(2, availableParallelism()) }, worker)).finally(
    () => compiler.close(),
  );
  if (options.json) console.log(jsonText(reports, 2));
  if (reports.some(({ status }) => status === "failed" || status === "differs")) {
    process.exitCode = 1;
  }
}

interface Report {
  readonly path: string;
  readonly status: "ran" | "same" | "written" | "cleared" | "differs" | "failed";
  readonly seconds: number;
  /** Number of the code cell that failed, from 1. */
  readonly cell?: number;
  readonly source?: string;
  readonly message?: string;
  readonly differences?: readonly string[];
}

async function runOne(
  path: string,
  { check, write, clear, timeout }: Options,
  compiler: NotebookCompiler,
): Promise<Report> {
  const { compareOutputs, readNotebook, runNotebook, withoutOutputs, writeNotebook } = await import(
    "../notebook/runner.js"
  );
  const saved = readNotebook(path);
  if (clear) {
    await writeNotebook(withoutOutputs(saved));
    return { path, status: "cleared", seconds: 0 };
  }
  const result = await runNotebook(saved, { timeoutSeconds: timeout, compiler });
  const { seconds } = result;
  if (result.kind === "failed") {
    const { cell, source, message } = result;
    return { path, status: "failed", seconds, cell, source, message };
  }
  if (write) {
    await writeNotebook(result.notebook);
    return { path, status: "written", seconds };
  }
  if (!check) return { path, status: "ran", seconds };
  const differences = compareOutputs(saved, result.notebook);
  return { path, status: differences.length > 0 ? "differs" : "same", seconds, differences };
}

function reportText({ path, status, seconds, ...report }: Report): string {
  const head = `${basename(path)}: ${status} (${seconds.toFixed(1)} s)`;
  const indent = (text: string) => text.replace(/^/gm, "    ");
  if (status === "failed") {
    return `${head} at code cell ${report.cell}\n${indent(report.source!)}\n  ${report.message}`;
  }
  return [head, ...(report.differences ?? []).map(indent)].join("\n");
}

function notebooksHere(): string[] {
  if (!existsSync("notebooks")) {
    throw new InputError(
      "notebooks requires a folder notebooks/ here, got none; name the files, or go to the folder of the project",
    );
  }
  const names = readdirSync("notebooks").filter((name) => name.endsWith(".ipynb"));
  return names.sort().map((name) => join("notebooks", name));
}

function positive(text: string): number {
  const value = Number(text);
  if (!(value > 0)) throw new InvalidArgumentError("requires a positive number");
  return value;
}
