import type { Command } from "commander";
import { InputError } from "../results/index.js";
import { formatOption, printTable, type TableOptions, textOf } from "./printTable.js";

/** `meridional size`: how many children a planned study needs. */
export function registerSize(program: Command): void {
  program
    .command("size")
    .description("how many children a planned study needs, with the assumptions spelt out")
    .argument("<plan>", "a JSON file with the kind accuracy, agreement or area")
    .addOption(formatOption())
    .addHelpText(
      "after",
      `
A plan says what is expected and what is wanted:
  { "kind": "accuracy", "expected": { "sensitivity": 0.85, "specificity": 0.9, "prevalence": 0.05 },
    "aim": { "halfWidth": { "sensitivity": 0.08 } }, "lost": 0.1 }
A wrong member is named; the room's README (src/planning) lists them all.

Example:
  meridional size data/plans/invented-accuracy.json`,
    )
    .action((path: string, _options: object, command: Command) =>
      run(path, command.optsWithGlobals()),
    );
}

async function run(path: string, options: TableOptions): Promise<void> {
  const { planStudy, planTable } = await import("../planning/index.js");
  const text = await textOf("size", "a plan", path);
  const plan = planStudy(parsed(text, path));
  if (typeof plan.n !== "number" && plan.aim !== "none") process.exitCode = 1;
  await printTable(plan, () => planTable(plan), options);
}

function parsed(text: string, path: string): unknown {
  try {
    return JSON.parse(text.replace(/^\uFEFF/, ""));
  } catch (error) {
    throw new InputError(`size requires JSON in ${path}, got: ${(error as Error).message}`);
  }
}
