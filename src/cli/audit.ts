import { readFile } from "node:fs/promises";
import { type Command, Option } from "commander";
import type { FileAudit } from "../cohort/index.js";
import { InputError } from "../results/index.js";
import { progressLine } from "./progressLine.js";

interface Options {
  readonly columns?: string;
  readonly only?: "readings" | "findings";
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
    .addOption(
      new Option(
        "--only <kind>",
        "what this file is, where one mapping serves a file of readings and another of findings",
      ).choices(["readings", "findings"]),
    )
    .option("--strict", "stop on the first cell that would be set aside")
    .addHelpText(
      "after",
      `
Examples:
  meridional audit data/children/children.csv --columns data/children/columns.json
  meridional audit findings.csv --columns columns.json --only findings
Exit code 1 when something looks like an identifier or was set aside.`,
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
    only: options.only,
    strict: options.strict,
    onProgress: progress.show,
  })
    .catch((error: unknown) => {
      const two = columns !== undefined && "readings" in columns && "findings" in columns;
      if (!(two && options.only === undefined && error instanceof InputError)) throw error;
      if (!/requires the column/.test(error.message)) throw error;
      throw new InputError(
        `${error.message}; if the mapping serves two files, say which this is: --only readings or --only findings`,
      );
    })
    .finally(progress.end);
  if (audit.setAside > 0 || audit.identifiers.length > 0) process.exitCode = 1;
  console.log(options.json ? JSON.stringify(audit) : auditText(audit));
}

function auditText({ file, rows, identifiers, parts, setAside, note }: FileAudit): string {
  const lines = [`${file}: ${rows} rows`, "", "Identifiers"];
  if (identifiers.length === 0) lines.push("  none found");
  for (const { column, kind, because, rows: count } of identifiers) {
    lines.push(`  ${column}: looks like ${kind}, by its ${because}, ${count} rows`);
  }
  if (parts.length === 0 && identifiers.some(({ kind }) => kind === "unique-code")) {
    lines.push("  A study number looks so too: name it as the subject of a mapping (--columns).");
  }
  for (const { kind, n, byRule, problems } of parts) {
    lines.push("", `${kind === "readings" ? "Readings" : "Findings"}: ${n}`);
    if (byRule.length === 0) lines.push("  no problems");
    for (const { rule, action, count, message } of byRule) {
      lines.push(`  ${count} ${action.replace("-", " ")}, ${rule}: ${message}`);
      const first = problems.find((problem) => problem.rule === rule && problem.action === action);
      if (action === "set-aside" && first?.row != null) {
        lines.push(`    first: "${first.value}" in ${first.column}, line ${first.row}`);
      }
    }
    const comma = problems.find(
      ({ rule, value }) => rule === "not-a-number" && /^[+-]?\d+,\d+$/.test(value),
    );
    if (comma !== undefined) {
      lines.push(
        `  "${comma.value}" has a decimal comma; if the file is written so, the mapping says "text": { "decimal": "," }.`,
      );
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
