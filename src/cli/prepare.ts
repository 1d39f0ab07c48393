import { existsSync } from "node:fs";
import { join, relative } from "node:path";
import type { Command } from "commander";
import { readJsonFile } from "../platform/index.js";
import type { Preparation, PreparedFile } from "../prepare/index.js";
import { jsonText } from "../text/index.js";
import { leftOutText, suchAs } from "./leftOutText.js";
import { progressLine } from "./progressLine.js";

interface Options {
  readonly to: string;
  readonly key?: string;
  readonly choices?: string;
  readonly json?: true;
}

/** `meridional prepare`: study files from raw exports; exit code 1 while something is open. */
export function registerPrepare(program: Command): void {
  program
    .command("prepare")
    .description(
      "make study files without identifiers from raw exports, and say what becomes of each column",
    )
    .argument(
      "<files...>",
      "two or more CSV, TSV, XLSX or Parquet files, or one that holds everything",
    )
    .requiredOption("--to <folder>", "where the study files go")
    .option(
      "--key <folder>",
      'where the key table goes (default: the folder of --to with "-key" behind)',
    )
    .option(
      "--choices <file>",
      "answers, a JSON file (default: prepare.json in the folder of --to, once it is there)",
    )
    .addHelpText(
      "after",
      `
Example:
  meridional prepare screening.csv exams.xlsx --to my-study
The first call writes my-study/prepare.json: what was detected, and null where only you know the answer. Go
through it and run the same command again. Exit code 1 while something is open.`,
    )
    .action((files: string[], _options: object, command: Command) =>
      run(files, command.optsWithGlobals()),
    );
}

async function run(files: string[], { to, key, json, ...options }: Options): Promise<void> {
  const { prepareFiles } = await import("../prepare/index.js");
  const written = join(to, "prepare.json");
  const from = options.choices ?? (existsSync(written) ? written : null);
  const choices = from === null ? undefined : await readJsonFile(from, "prepare", "choices");
  const progress = progressLine(2000);
  const result = await prepareFiles(files, choices, { to, key, onProgress: progress.show }).finally(
    progress.end,
  );
  if (!result.written) process.exitCode = 1;
  if (json) {
    console.log(jsonText(result));
    return;
  }
  const { matchWords } = await import("../prepare/index.js");
  console.log(
    preparationText(result, to, key ?? `${to.replace(/[\\/]+$/, "")}-key`, matchWords(result.link)),
  );
}

/** What became of the files, in lines. */
function preparationText(result: Preparation, to: string, key: string, matches: string): string {
  const { files, questions, unseenLosses, outOfOrder, link, written } = result;
  const unread = new Set(questions.flatMap(({ file, key }) => (key === "sheet" ? [file] : [])));
  const lines = files.flatMap((file) =>
    unread.has(file.file)
      ? [`${file.file}: a workbook with several sheets, read once one is named`, ""]
      : fileText(file),
  );
  if (files.length > 1 && unread.size === 0) lines.push("Link", `  ${matches}`);
  if (link.ignored.length > 0)
    lines.push(`  ignored: ${link.ignored.join(", ")}; ${link.matched} match`);
  if (outOfOrder.length > 0) {
    lines.push(
      "",
      `${outOfOrder.length} dates cannot be in this order; they are kept as they are:`,
    );
    for (const { file, line, what } of outOfOrder.slice(0, 3))
      lines.push(`  ${file}, line ${line}: ${what}`);
  }
  const place = (name: string) => join(relative("", to), name);
  if (!written) {
    lines.push("", `No study file is written yet. In ${place("prepare.json")}:`);
    for (const { file, column, key: name, ask, allowed } of questions) {
      const where = [file, column, name].filter((part) => part !== null).join(" > ");
      const some =
        allowed.length > 8
          ? [...allowed.slice(0, 5), `${allowed.length - 5} more in its note`]
          : allowed;
      const goes = name === "is" && column !== null ? '; or "fate": "drop" alone, and it goes' : "";
      lines.push(`  ${where}: ${ask}? (${some.join(", ")}${goes})`);
    }
    if (unseenLosses.length > 0) {
      lines.push(
        '  Look at what would be lost ("loses"), and change the fate of a column that has to stay:',
        ...unseenLosses.map(({ file, column, loses }) =>
          column === null
            ? `    ${file}, rows: ${loses}`
            : `    ${file} > ${column}, cells: ${loses}`,
        ),
      );
    }
    lines.push(
      questions.length > 0
        ? "Put an answer in place of every null, then run the same command again."
        : "If you agree, run the same command again.",
    );
    return lines.join("\n");
  }
  const names = files.map(({ as }) => as);
  lines.push(
    "",
    `Written to ${relative("", to)}: ${[...names, "columns.json", "link.json", "prepare.json"].join(", ")}.`,
  );
  for (const line of result.look) lines.push(`  LOOK: ${line}`);
  if (result.leftOut.length > 0) lines.push("No part of the mapping:");
  for (const one of result.leftOut) lines.push(`  ${leftOutText(one)}`);
  lines.push(`Key table, never passed on: ${join(relative("", key), "children.csv")}`);
  const kinds = (["readings", "findings"] as const).map((kind) =>
    files.find(({ holds }) => holds?.includes(kind)),
  );
  const [readings, findings] = kinds;
  if (readings !== undefined && findings !== undefined) {
    lines.push(
      `Next:\n  npx meridional draft ${place(readings.as)} ${place(findings.as)} --out ${relative("", to)}`,
    );
  }
  lines.push(result.note);
  return lines.join("\n");
}

function fileText({
  file,
  as,
  holds,
  rowCount: rows,
  columns,
  rowsLeftOut,
  linesLeftOut,
}: PreparedFile): string[] {
  const what =
    holds === null ? "not known whether readings or findings" : holds.join(" and ") || "children";
  const lines = [`${file}: ${rows} rows, ${what}, to ${as}`];
  if (rowsLeftOut > 0) {
    lines.push(
      `  ${rowsLeftOut} rows left out, of another width or without a child (line ${linesLeftOut.join(", ")})`,
    );
  }
  for (const { column, is, fate, because, filled, loses, lost, examples } of columns) {
    lines.push(`  ${column}: ${is}, ${fate ?? "asked"} (${because}${suchAs(examples)})`);
    if (loses > 0) {
      const loud = loses > filled / 100 ? "LOOK: " : "";
      lines.push(`    ${loud}loses ${loses} of ${filled} cells: ${lost}`);
    }
  }
  return [...lines, ""];
}
