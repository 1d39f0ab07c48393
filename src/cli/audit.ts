import { type Command, Option } from "commander";
import type { FileAudit } from "../cohort/index.js";
import { readJsonFile } from "../platform/index.js";
import { InputError } from "../results/index.js";
import { jsonText } from "../text/index.js";
import { progressLine } from "./progressLine.js";

interface Options {
  readonly columns?: string;
  readonly only?: "readings" | "findings";
  readonly strict?: true;
  readonly json?: true;
}

/** `meridional audit`: identifiers and problems of a file; exit code 1 when the mapping seems wrong. */
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
Exit code 1 when something looks like an identifier, when more than a fifth of the eyes are set aside, or when nine
tenths of the cylinders contradict the declared sign.`,
    )
    .action((path: string, _options: object, command: Command) =>
      run(path, command.optsWithGlobals()),
    );
}

async function run(path: string, options: Options): Promise<void> {
  const { auditFile } = await import("../cohort/index.js");
  const columns =
    options.columns === undefined
      ? undefined
      : await readJsonFile(options.columns, "audit", "a mapping");
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
  const wrong = audit.parts.some(({ faults }) => faults.length > 0);
  if (wrong || audit.identifiers.length > 0) process.exitCode = 1;
  console.log(options.json ? jsonText(audit) : auditText(audit));
}

function auditText({
  file,
  rowCount: rows,
  identifiers,
  parts,
  setAside,
  note,
}: FileAudit): string {
  const lines = [`${file}: ${rows} rows`, "", "Identifiers"];
  if (identifiers.length === 0) lines.push("  none found");
  for (const { column, kind, because, rows: count } of identifiers) {
    lines.push(`  ${column}: looks like ${kind}, by its ${because}, ${count} rows`);
  }
  if (parts.length === 0 && identifiers.some(({ kind }) => kind === "unique-code")) {
    lines.push("  A study number looks so too: name it as the subject of a mapping (--columns).");
  }
  for (const { kind, n, byColumn, problems, faults } of parts) {
    lines.push("", `${kind === "readings" ? "Readings" : "Findings"}: ${n}`);
    if (byColumn.length === 0) lines.push("  no problems");
    for (const { rule, action, column, count, share, message, places } of byColumn) {
      const where = column === null ? "" : ` in ${column}`;
      lines.push(
        `  ${count} ${action.replace("-", " ")}${where} (${percent(share)}), ${rule}: ${message}`,
      );
      const shown = places.filter(({ row, value }) => row !== null && value !== "");
      if (shown.length > 0) {
        lines.push(`    ${shown.map(({ row, value }) => `"${value}" in line ${row}`).join(", ")}`);
      }
      const detail = shown.find((place) => place.detail !== undefined)?.detail;
      if (detail !== undefined) lines.push(`    ${detail}`);
    }
    const comma = problems.find(
      ({ rule, value }) => rule === "not-a-number" && /^[+-]?\d+,\d+$/.test(value),
    );
    if (comma !== undefined) {
      lines.push(
        `  "${comma.value}" has a decimal comma; if the file is written so, the mapping says "text": { "decimal": "," }.`,
      );
    }
    for (const { rule, eyes, of, message } of faults) {
      lines.push(`  WRONG? ${eyes} of ${of} eyes: ${message}.`);
      lines.push(
        `    If it is right all the same, the mapping says "accepted": { "${rule}": "the reason" }.`,
      );
    }
  }
  const total =
    parts.length === 0
      ? "No mapping, so no cell was read; --columns columns.json names one, which meridional prepare or draft writes."
      : `Set aside: ${setAside}.`;
  return [...lines, "", total, note].join("\n");
}

function percent(share: number): string {
  return share > 0 && share < 0.001 ? "below 0.1 %" : `${(100 * share).toFixed(1)} %`;
}
