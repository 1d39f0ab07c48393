import { hashOfFile, join, readBytes, readText, resolve, sha256 } from "../../platform/index.js";
import { defineProtocol } from "../../protocol/index.js";
import { InputError, type RunOptions } from "../../results/index.js";
import { inputsOf, runStudy } from "../run/runStudy.js";
import { requireStudyResult } from "../run/studyResult.js";
import { confidentialFolder } from "./confidentialFolder.js";
import { type ResultDifference, resultDifferences } from "./differences.js";
import type { Manifest } from "./writeReport.js";

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
  const shownText = await readText(join(folder, "manifest.json")).catch(() => null);
  if (shownText === null)
    throw new InputError(`reproduceStudy requires manifest.json in ${folder}, got none`);
  const shown = JSON.parse(shownText) as Partial<Manifest>;
  if (shown.files?.["confidential/result.json"] !== undefined) {
    throw new InputError(
      `reproduceStudy requires a public report with its exact result in a folder beside it, got the layout of before, confidential/ within ${folder}: run the study again from its protocol`,
    );
  }
  const own = shown.inputs === undefined ? confidentialFolder(folder) : folder;
  const { manifest, json } = await exactOf(own, shown);
  const before = requireStudyResult("reproduceStudy", JSON.parse(json));
  const sources = options.sources ?? resolve(own, manifest.sources ?? ".");
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

/** The full manifest and the exact result, where they belong to the run that the report is of. */
async function exactOf(
  folder: string,
  shown: Partial<Manifest>,
): Promise<{ readonly manifest: Manifest; readonly json: string }> {
  const read = async (path: string) => {
    const text = await readText(join(folder, path)).catch(() => null);
    if (text === null) {
      throw new InputError(`reproduceStudy requires ${path} in ${folder}, got none`);
    }
    return text;
  };
  const manifest = JSON.parse(await read("manifest.json")) as Manifest;
  if (manifest.run !== shown.run) {
    throw new InputError(
      `reproduceStudy requires the report and ${folder} to be of one run, got ${shown.run} and ${manifest.run}: run the study again from its protocol`,
    );
  }
  return { manifest, json: await read("result.json") };
}
