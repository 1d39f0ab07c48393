import { hashOfFile, join, readBytes, resolve, sha256 } from "../../platform/index.js";
import { defineProtocol } from "../../protocol/index.js";
import { InputError, type RunOptions } from "../../results/index.js";
import { inputsOf, runStudy } from "../run/runStudy.js";
import { confidentialFolder } from "./confidentialFolder.js";
import { type ResultDifference, resultDifferences } from "./differences.js";
import { readFullManifest, readManifest, readStudyResult } from "./writtenStudy.js";

/** What came of running a written study again. */
export interface Reproduction {
  readonly kind: "reproduction";
  readonly same: boolean;
  /** Input files that are not what they were. */
  readonly changedInputs: readonly string[];
  /** Files of the report that were altered since it was written. */
  readonly alteredFiles: readonly string[];
  readonly differences: readonly ResultDifference[];
}

/**
 * Runs a written study again from its own result.json and says what differs, to the digit.
 *
 * @param folder a folder written by `writeReport`
 * @param options `sources`: where the input files lie; by default where the manifest says
 * @throws when the folder holds no report, or an input cannot be read
 */
export async function reproduceStudy(
  folder: string,
  options: RunOptions & { readonly sources?: string } = {},
): Promise<Reproduction> {
  const caller = "reproduceStudy";
  const shown = await readManifest(caller, folder);
  const own = "inputs" in shown ? folder : confidentialFolder(folder);
  const manifest = await readFullManifest(caller, own);
  if (manifest.run !== shown.run) {
    throw new InputError(
      `reproduceStudy requires the report and ${own} to be of one run, got ${shown.run} and ${manifest.run}: run the study again from its protocol`,
    );
  }
  const before = await readStudyResult(caller, join(own, "result.json"));
  const sources = options.sources ?? resolve(own, manifest.sources);
  const alteredFiles: string[] = [];
  for (const [path, hash] of Object.entries(manifest.files)) {
    const bytes = await readBytes(join(folder, path)).catch(() => null);
    if (bytes === null || sha256(bytes) !== hash) alteredFiles.push(path);
  }
  const changedInputs: string[] = [];
  const after = await runStudy(defineProtocol(before.protocol), { ...options, folder: sources });
  const readNow = inputsOf(after);
  for (const [name, hash] of Object.entries(manifest.inputs)) {
    const path = resolve(sources, name);
    const now = readNow.get(path) ?? (await hashOfFile(path).catch(() => null));
    if (now !== hash) changedInputs.push(name);
  }
  const differences = resultDifferences(before, JSON.parse(JSON.stringify(after)));
  return {
    kind: "reproduction",
    same: differences.length === 0 && alteredFiles.length === 0 && changedInputs.length === 0,
    changedInputs,
    alteredFiles,
    differences,
  };
}
