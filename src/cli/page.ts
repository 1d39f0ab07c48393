import { relative } from "node:path";
import { type Command, Option } from "commander";
import { writeFileWhole } from "../platform/index.js";

interface Options {
  readonly out: string;
  readonly json?: true;
}

/** `meridional page study`: the toolkit in one HTML file, for a computer where nothing may be installed. */
export function registerPage(program: Command): void {
  const page = program
    .command("page")
    .description("write a page that needs nothing but a browser, not even a network");
  page
    .command("study")
    .description("a page that runs a study on files that are dropped onto it")
    .addOption(new Option("--out <file>", "where the page goes").default("study.html"))
    .addHelpText(
      "after",
      `
Example:
  meridional page study --out study.html
Open the file in a browser, from a USB stick too. What is dropped onto it stays on that computer.`,
    )
    .action((_options: object, command: Command) => run(command.optsWithGlobals()));
}

async function run({ out, json }: Options): Promise<void> {
  const { studyPage } = await import("../page/index.js");
  const text = studyPage();
  await writeFileWhole(out, text, { caller: "page" });
  const bytes = Buffer.byteLength(text);
  if (json) console.log(JSON.stringify({ page: out, bytes }));
  else {
    console.log(`Written: ${relative("", out)} (${(bytes / 1e6).toFixed(1)} MB).`);
    console.log("Open it in a browser. It needs no network, and what is given to it stays there.");
  }
}
