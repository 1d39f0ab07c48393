import type { Command } from "commander";
import { caution } from "../results/index.js";
import { jsonText } from "../text/index.js";
import { forTerminal } from "./forTerminal.js";
import { progressLine } from "./progressLine.js";

/** `meridional reproduce`: runs a written study again and says what differs. Exit code 1 if anything does. */
export function registerReproduce(program: Command): void {
  program
    .command("reproduce")
    .description("run a written study again and say what differs, to the digit")
    .argument("<report>", "the folder of a report")
    .option("--sources <folder>", "where the input files lie (default: where the manifest says)")
    .addHelpText(
      "after",
      "\nExample:\n  meridional reproduce out/children\nExit code 1 when anything differs.",
    )
    .action((folder: string, _options: object, command: Command) =>
      run(folder, command.optsWithGlobals()),
    );
}

async function run(
  folder: string,
  { sources, json }: { readonly sources?: string; readonly json?: true },
): Promise<void> {
  const { reproduceStudy } = await import("../study/index.js");
  const progress = progressLine();
  const found = await reproduceStudy(folder, { sources, onProgress: progress.show });
  progress.end();
  if (!found.same) process.exitCode = 1;
  if (json) {
    console.log(jsonText(found));
    return;
  }
  for (const name of found.changedInputs) console.log(`input changed: ${name}`);
  for (const path of found.alteredFiles) console.log(`report file altered: ${path}`);
  for (const { path, before, after } of found.differences.slice(0, 40)) {
    console.log(`${path}: ${before} became ${after}`);
  }
  const more = found.differences.length - 40;
  if (more > 0) console.log(`and ${more} more differences (--json lists all)`);
  if (found.same) console.log("The same result, to the last digit.");
  console.log(forTerminal(`\n${caution}`));
}
