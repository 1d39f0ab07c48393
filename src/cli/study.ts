import { existsSync } from "node:fs";
import { basename, dirname, join, relative, resolve } from "node:path";
import type { Command } from "commander";
import { caution } from "../results/index.js";
import type { RunStudyOptions } from "../study/index.js";
import { jsonText } from "../text/index.js";
import { forTerminal } from "./forTerminal.js";
import { progressLine } from "./progressLine.js";

interface Options {
  readonly earlier?: readonly string[];
  readonly out?: string;
  readonly json?: true;
}

/** `meridional study`: runs a protocol and writes its report. */
export function registerStudy(program: Command): void {
  program
    .command("study")
    .description("run a study protocol and write its report")
    .argument("<protocol>", "the protocol, a JSON file")
    .option(
      "--out <folder>",
      "where the report goes (default: out/ and the protocol's folder name)",
    )
    .option(
      "--earlier <folders...>",
      "public reports passed on before, beside those next to this one: refused where 1 to 10 children differ",
    )
    .addHelpText(
      "after",
      `
Example:
  meridional study data/children/protocol.json --out out/children
--json prints the exact counts, also of a public study: not to be passed on then.`,
    )
    .action((path: string, _options: object, command: Command) =>
      run(path, command.optsWithGlobals()),
    );
}

async function run(path: string, options: Options): Promise<void> {
  const { defineProtocol, protocolFiles } = await import("../protocol/index.js");
  const { fileState, readJsonFile, requireOwnFolder, requireUnchanged } = await import(
    "../platform/index.js"
  );
  const { confidentialFolder, requireReleasable, runStudy, summaryLines, writeReport } =
    await import("../study/index.js");
  const before = await fileState(path);
  const protocol = defineProtocol(await readJsonFile(path, "study", "a protocol file"));
  const folder = dirname(resolve(path));
  const out = options.out ?? join("out", basename(folder));
  await requireOwnFolder(out);
  if (protocol.audience === "public") await requireOwnFolder(confidentialFolder(out));
  const progress = progressLine();
  const wrong: string[] = [];
  const onFault: RunStudyOptions["onFault"] = ({ rule, eyes, of, message }, source) => {
    wrong.push(
      `WRONG? ${eyes} of ${of} eyes of the ${source}: ${message}. If it is right all the same, the mapping says ` +
        `"accepted": { "${rule}": "the reason" }.`,
    );
  };
  const result = await runStudy(protocol, { folder, onProgress: progress.show, onFault }).catch(
    (error: unknown) => {
      progress.end();
      throw error;
    },
  );
  await requireUnchanged("study", path, before);
  const overlaps =
    protocol.audience === "public"
      ? await requireReleasable(result, out, options.earlier).finally(progress.end)
      : [];
  const names = new Set([...protocolFiles(protocol), basename(path)]);
  const written = await writeReport(result, out, {
    sources: { folder, files: [...names] },
    onProgress: progress.show,
  });
  progress.end();
  for (const line of overlaps) process.stderr.write(`${forTerminal(line)}\n`);
  if (wrong.length > 0) {
    process.exitCode = 1;
    process.stderr.write(`${wrong.map((line) => forTerminal(line)).join("\n")}\n`);
  }
  if (options.json) {
    console.log(jsonText(result));
    return;
  }
  for (const line of summaryLines(result)) console.log(forTerminal(line));
  const [first, ...others] = written.filter((path) => path.startsWith("report."));
  const also = others.length === 0 ? "" : ` (and ${others.join(", ")})`;
  console.log(`\nReport:   ${join(relative("", out), first)}${also}`);
  console.log(`Figures:  ${join(relative("", out), "figures")}`);
  if (protocol.audience === "public") {
    const apart = relative("", confidentialFolder(out));
    console.log(
      `May be passed on: ${relative("", out)}. Exact counts, not to be passed on: ${apart}`,
    );
  }
  const notebook = "notebooks/01-first-look.ipynb";
  if (existsSync(notebook)) console.log(`Notebook: ${notebook}`);
  console.log(forTerminal(`\n${caution}`));
}
