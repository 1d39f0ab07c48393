import { access, mkdir } from "node:fs/promises";
import { join, relative, resolve } from "node:path";
import type { Command } from "commander";
import { writeFileWhole } from "../platform/index.js";
import { InputError } from "../results/index.js";
import { jsonText } from "../text/index.js";
import { leftOutText } from "./leftOutText.js";

/** `meridional draft`: writes a starting protocol and column mapping from the given files. */
export function registerDraft(program: Command): void {
  program
    .command("draft")
    .description("write a starting protocol and column mapping from a readings and a findings file")
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
  const draft = await draftStudy({ readings, findings, folder: out });
  const { takenOver, leftOut, look } = draft;
  const kept = takenOver !== null && resolve(takenOver) === resolve(out, "columns.json");
  const files = Object.entries(draft.files).filter(
    ([name]) => !(kept && (name === "columns.json" || name === "columns.schema.json")),
  );
  for (const [name] of files) {
    // a schema is nobody's work
    if (name.endsWith(".schema.json")) continue;
    const exists = await access(join(out, name)).then(
      () => true,
      () => false,
    );
    if (exists)
      throw new InputError(
        `draft requires ${name} not to exist in ${out}, got one; move it away, or name another folder with --out`,
      );
  }
  await mkdir(out, { recursive: true });
  for (const [name, content] of files) {
    await writeFileWhole(join(out, name), `${JSON.stringify(content, null, 2)}\n`, {
      caller: "draft",
    });
  }
  if (json) {
    console.log(jsonText(draft));
    return;
  }
  console.log(`Written to ${out}: ${files.map(([name]) => name).join(", ")}.`);
  if (takenOver !== null) console.log(`The mapping is the one in ${shown(takenOver)}.`);
  for (const line of look) console.log(`  look: ${line}`);
  if (leftOut.length > 0) console.log("Not read:");
  for (const one of leftOut) console.log(`  ${leftOutText(one)}`);
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
