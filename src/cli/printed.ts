import { readFile } from "node:fs/promises";
import { type Command, Option } from "commander";
import { caution, InputError } from "../results/index.js";

interface Options {
  readonly format: "markdown" | "csv" | "html";
  readonly json?: true;
}

/** `meridional printed`: a published table, typed, beside what its numbers allow. */
export function registerPrinted(program: Command): void {
  program
    .command("printed")
    .description("take a published table apart: recompute each printed number from the others")
    .argument("<file>", "the table as CSV or JSON, one row a paper, numbers as they are printed")
    .addOption(
      new Option("--format <format>", "how")
        .choices(["markdown", "csv", "html"])
        .default("markdown"),
    )
    .addHelpText(
      "after",
      `
The columns are label, what is known (n, withCondition, ...) and what is printed
(sensitivity, specificity, positivePredictiveValue, ..., bias, sd, limits, mean,
interval), such as "87.04 (80.87-91.79)". A wrong column name prints all names.

Example:
  meridional printed data/published/accuracy.csv`,
    )
    .action((path: string, _options: object, command: Command) =>
      run(path, command.optsWithGlobals()),
    );
}

async function run(path: string, { format, json }: Options): Promise<void> {
  const { comparePrinted, printedComparisonTable, readPrintedRows } = await import(
    "../printed/index.js"
  );
  const { toCsv, toHtml, toMarkdown } = await import("../tables/index.js");
  const text = await readFile(path, "utf8").catch(() => null);
  if (text === null) throw new InputError(`printed requires a table, got no readable ${path}`);
  const comparison = comparePrinted(readPrintedRows(text));
  if (comparison.notReproduced > 0) process.exitCode = 1;
  if (json) {
    console.log(JSON.stringify(comparison));
    return;
  }
  const write = { markdown: toMarkdown, csv: toCsv, html: toHtml }[format];
  console.log(write(printedComparisonTable(comparison)));
  // the writers of Markdown and HTML end with the table's notes, the caution among them
  if (format === "csv") console.log(`\n${caution}`);
}
