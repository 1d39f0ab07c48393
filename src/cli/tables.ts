import { existsSync } from "node:fs";
import { join } from "node:path";
import { type Command, Option } from "commander";
import { readSmallFile } from "../platform/index.js";
import { caution, InputError } from "../results/index.js";
import { jsonText } from "../text/index.js";
import { forTerminal } from "./forTerminal.js";

interface Options {
  readonly format: "markdown" | "csv" | "html";
  readonly json?: true;
}

/** `meridional tables`: prints the tables of a written study. */
export function registerTables(program: Command): void {
  program
    .command("tables")
    .description("print the tables of a written study")
    .argument("<report>", "the folder of a report, or its result.json")
    .addOption(
      new Option("--format <format>", "how")
        .choices(["markdown", "csv", "html"])
        .default("markdown"),
    )
    .addHelpText("after", "\nExample:\n  meridional tables out/children --format csv")
    .action((path: string, _options: object, command: Command) =>
      run(path, command.optsWithGlobals()),
    );
}

async function run(path: string, { format, json }: Options): Promise<void> {
  const { confidentialFolder, readStudyResult, studyReport } = await import("../study/index.js");
  const { toCsv, toHtml, toMarkdown } = await import("../tables/index.js");
  const places = path.endsWith(".json")
    ? [path]
    : [join(path, "result.json"), join(confidentialFolder(path), "result.json")];
  const texts = await Promise.all(places.map((place) => readSmallFile(place, "tables")));
  const text = texts.find((found) => found !== null) ?? null;
  const file = places[Math.max(0, texts.indexOf(text))];
  if (text === null && existsSync(join(path, "confidential"))) {
    throw new InputError(
      `tables requires the exact result of a public report in ${confidentialFolder(path)}, got the layout of before, confidential/ within ${path}: run the study again from its protocol`,
    );
  }
  if (text === null)
    throw new InputError(`tables requires a report's result.json, got no readable ${file}`);
  const result = await readStudyResult("tables", file);
  const tables = studyReport(result).sections.flatMap(({ blocks }) =>
    blocks.filter((block) => block.kind === "table"),
  );
  if (json) {
    console.log(jsonText(tables));
    return;
  }
  const write = { markdown: toMarkdown, csv: toCsv, html: toHtml }[format];
  for (const table of tables) console.log(`${write(table)}\n`);
  console.log(forTerminal(caution));
}
