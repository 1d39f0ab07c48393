import { readFile } from "node:fs/promises";
import { type Command, Option } from "commander";
import { caution, InputError } from "../results/index.js";

interface Options {
  readonly format: "markdown" | "csv" | "html";
  readonly json?: true;
}

/** `meridional size`: how many children a planned study needs. */
export function registerSize(program: Command): void {
  program
    .command("size")
    .description("how many children a planned study needs, with the assumptions spelt out")
    .argument("<plan>", "a JSON file with the kind accuracy, agreement or area")
    .addOption(
      new Option("--format <format>", "how")
        .choices(["markdown", "csv", "html"])
        .default("markdown"),
    )
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

async function run(path: string, { format, json }: Options): Promise<void> {
  const { planStudy, planTable } = await import("../planning/index.js");
  const { toCsv, toHtml, toMarkdown } = await import("../tables/index.js");
  const text = await readFile(path, "utf8").catch(() => null);
  if (text === null) throw new InputError(`size requires a plan, got no readable ${path}`);
  const plan = planStudy(parsed(text, path));
  if (typeof plan.n !== "number" && plan.aim !== "none") process.exitCode = 1;
  if (json) {
    console.log(JSON.stringify(plan));
    return;
  }
  const write = { markdown: toMarkdown, csv: toCsv, html: toHtml }[format];
  console.log(write(planTable(plan)));
  // the writers of Markdown and HTML end with the table's notes, the caution among them
  if (format === "csv") console.log(`\n${caution}`);
}

function parsed(text: string, path: string): unknown {
  try {
    return JSON.parse(text.replace(/^\uFEFF/, ""));
  } catch (error) {
    throw new InputError(`size requires JSON in ${path}, got: ${(error as Error).message}`);
  }
}
