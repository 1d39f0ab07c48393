import { access, mkdir, writeFile } from "node:fs/promises";
import { join, relative } from "node:path";
import type { Command } from "commander";
import { InputError } from "../results/index.js";

/** `meridional draft`: writes a starting protocol and column mapping from the given files. */
export function registerDraft(program: Command): void {
  program
    .command("draft")
    .description("write a starting protocol from the columns of a readings and a findings file")
    .argument("<readings>", "the file of readings")
    .argument("<findings>", "the file of findings (the same file is fine)")
    .option("--out <folder>", "where protocol.json and its companions go", ".")
    .addHelpText("after", "\nExample:\n  meridional draft readings.csv findings.csv --out my-study")
    .action((readings: string, findings: string, _options: object, command: Command) =>
      run(readings, findings, command.optsWithGlobals()),
    );
}

async function run(
  readings: string,
  findings: string,
  { out, json }: { readonly out: string; readonly json?: true },
): Promise<void> {
  const { draftStudy } = await import("../study/index.js");
  const files = await draftStudy({ readings, findings, folder: out });
  for (const name of Object.keys(files)) {
    const exists = await access(join(out, name)).then(
      () => true,
      () => false,
    );
    if (exists)
      throw new InputError(
        `draft requires ${name} not to exist in ${out}, got one; name another folder with --out`,
      );
  }
  await mkdir(out, { recursive: true });
  for (const [name, content] of Object.entries(files)) {
    await writeFile(join(out, name), `${JSON.stringify(content, null, 2)}\n`);
  }
  if (json) {
    console.log(JSON.stringify(files));
    return;
  }
  console.log(`Written to ${out}: ${Object.keys(files).join(", ")}.`);
  const mapping = shown(join(out, "columns.json"));
  const one = readings === findings;
  console.log(`Every choice has a "note" beside it; go through them all, the mapping first. Then run:
  npx meridional audit ${shown(readings)} --columns ${mapping}${one ? "" : " --only readings"}${
    one ? "" : `\n  npx meridional audit ${shown(findings)} --columns ${mapping} --only findings`
  }
  npx meridional study ${shown(join(out, "protocol.json"))}`);
}

/** A path as it can be typed. */
function shown(path: string): string {
  const short = relative("", path);
  return /\s/.test(short) ? `"${short}"` : short;
}
