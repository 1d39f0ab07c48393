import { relative } from "node:path";
import { type Command, InvalidArgumentError, Option } from "commander";
import { basename, writeFileWhole } from "../platform/index.js";

interface Options {
  readonly out: string;
  readonly json?: true;
}

interface NotebookOptions {
  readonly out?: string;
  readonly embedData?: true;
  readonly timeout: number;
  readonly json?: true;
}

/** `meridional page study`, `meridional page NOTEBOOK`: one HTML file, for a computer where nothing may be installed. */
export function registerPage(program: Command): void {
  const page = program
    .command("page")
    .description("write a page that needs nothing but a browser, not even a network")
    .argument(
      "<notebook>",
      "a notebook (.ipynb), whose cells can be run in the page; or the word study",
    )
    .addOption(new Option("--out <file>", "where the page goes; beside the notebook by default"))
    .option("--embed-data", "put data files of your own into the page: they may be passed on")
    .addOption(
      new Option("--timeout <seconds>", "longest time for one cell")
        .default(600)
        .argParser(secondsOf),
    )
    .addHelpText(
      "after",
      `
Examples:
  meridional page notebooks/01-first-look.ipynb
  meridional page study
The notebook is run once, to find the files that it reads; they become part of the page. Data sets of this package
may be passed on; any other file only with --embed-data, and none that holds identifiers.`,
    )
    .action((notebook: string, _options: object, command: Command) =>
      writeNotebook(notebook, command.optsWithGlobals()),
    );
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

async function writeNotebook(path: string, options: NotebookOptions): Promise<void> {
  const { notebookPage } = await import("../page/index.js");
  const { embedData, timeout: timeoutSeconds, json } = options;
  const { html, files, differences } = await notebookPage(path, { embedData, timeoutSeconds });
  const out = options.out ?? path.replace(/(\.ipynb)?$/, ".html");
  await writeFileWhole(out, html, { caller: "page" });
  const bytes = Buffer.byteLength(html);
  if (json) return console.log(JSON.stringify({ page: out, bytes, files, differences }));
  console.log(`Written: ${relative("", out)} (${(bytes / 1e6).toFixed(1)} MB).`);
  const within =
    files.length === 0 ? "no data file" : files.map((file) => basename(file)).join(", ");
  console.log(
    `Within it: the notebook with its saved outputs, and ${within}. Whoever has the page has all of it.`,
  );
  for (const line of differences) console.log(`Other than saved: ${line}`);
}

function secondsOf(text: string): number {
  const seconds = Number(text);
  if (!(seconds > 0)) throw new InvalidArgumentError("a positive number of seconds is wanted");
  return seconds;
}
