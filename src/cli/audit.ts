import { readFile } from "node:fs/promises";
import type { Command } from "commander";
import type { FileAudit } from "../cohort/index.js";
import { InputError } from "../results/index.js";
import { progressLine } from "./progressLine.js";

interface Options {
  readonly columns?: string;
  readonly strict?: true;
  readonly json?: true;
}

/** `meridional audit`: identifiers and problems of a file; exit code 1 when anything was set aside. */
export function registerAudit(program: Command): void {
  program
    .command("audit")
    .description(
      "list what looks like an identifier in a file, and every cell that needs a decision",
    )
    .argument("<file>", "a CSV, TSV, XLSX or Parquet file")
    .option("--columns <mapping>", "the column mapping, a JSON file; without it only identifiers")
    .option("--strict", "stop on the first cell that would be set aside")
    .addHelpText(
      "after",
      "\nExample:\n  meridional audit data/children/children.csv --columns data/children/columns.json",
    )
    .action((path: string, _options: object, command: Command) =>
      run(path, command.optsWithGlobals()),
    );
}

async function run(path: string, options: Options): Promise<void> {
  const { auditFile } = await import("../cohort/index.js");
  const columns = options.columns === undefined ? undefined : await readMapping(options.columns);
  const progress = progressLine(2000);
  const audit = await auditFile(path, {
    columns,
    strict: options.strict,
    onProgress: progress.show,
  }).finally(progress.end);
  if (audit.setAside > 0 || audit.identifiers.length > 0) process.exitCode = 1;
  console.log(options.json ? JSON.stringify(audit) : auditText(audit));
}

function auditText({ file, rows, identifiers, parts, setAside, note }: FileAudit): string {
  const lines = [`${file}: ${rows} rows`, "", "Identifiers"];
  if (identifiers.length === 0) lines.push("  none found");
  for (const { column, kind, because, rows: count } of identifiers) {
    lines.push(`  ${column}: looks like ${kind}, by its ${because}, ${count} rows`);
  }
  for (const { kind, n, byRule } of parts) {
    lines.push("", `${kind === "readings" ? "Readings" : "Findings"}: ${n}`);
    if (byRule.length === 0) lines.push("  no problems");
    for (const { rule, action, count, message } of byRule) {
      lines.push(`  ${count} ${action.replace("-", " ")}, ${rule}: ${message}`);
    }
  }
  const total = parts.length === 0 ? "No mapping, so no cell was read." : `Set aside: ${setAside}.`;
  return [...lines, "", total, note].join("\n");
}

async function readMapping(path: string): Promise<object> {
  const text = await readFile(path, "utf8").catch(() => null);
  if (text === null) throw new InputError(`audit requires a mapping, got no readable ${path}`);
  try {
    return JSON.parse(text);
  } catch (error) {
    throw new InputError(`audit requires JSON in ${path}, got ${(error as Error).message}`);
  }
}
