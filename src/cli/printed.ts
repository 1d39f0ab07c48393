import type { Command } from "commander";
import { formatOption, printTable, type TableOptions, textOf } from "./printTable.js";

/** `meridional printed`: a published table, typed, beside what its numbers allow. */
export function registerPrinted(program: Command): void {
  program
    .command("printed")
    .description("take a published table apart: recompute each printed number from the others")
    .argument("<file>", "the table as CSV or JSON, one row a paper, numbers as they are printed")
    .addOption(formatOption())
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

async function run(path: string, options: TableOptions): Promise<void> {
  const { comparePrinted, printedComparisonTable, readPrintedRows } = await import(
    "../printed/index.js"
  );
  const text = await textOf("printed", "a table", path);
  const comparison = comparePrinted(readPrintedRows(text));
  if (comparison.notReproduced > 0) process.exitCode = 1;
  await printTable(comparison, () => printedComparisonTable(comparison), options);
}
