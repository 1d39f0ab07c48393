import { requireShape } from "../../boundary/index.js";
import { join, readJsonFile, schemaAtFirstUse } from "../../platform/index.js";
import { fitting, InputError } from "../../results/index.js";
import { requireResultVersion, requireStudyResult, type StudyResult } from "../run/studyResult.js";
import type { Manifest, PublicManifest } from "./writeReport.js";

const manifestSchemas = schemaAtFirstUse((z) => {
  const published = z.looseObject({
    kind: z.literal("manifest"),
    written: z.string(),
    meridional: z.string(),
    node: z.string(),
    protocolHash: z.string(),
    run: z.string(),
  });
  const hashes = z.record(z.string(), z.string());
  const whole = published.extend({
    seed: z.number(),
    sources: z.string(),
    inputs: hashes,
    files: hashes,
  });
  return { published, whole };
});

/** The manifest of a report that may be passed on, or the full one, which has inputs. */
export async function readManifest(
  caller: string,
  folder: string,
): Promise<PublicManifest | Manifest> {
  const path = join(folder, "manifest.json");
  const json = await readJsonFile(path, caller, "a report with its manifest.json");
  if ("files" in json && Object.hasOwn(json.files as object, "confidential/result.json")) {
    throw new InputError(
      `${caller} requires a public report with its exact result in a folder beside it, got the layout of before, confidential/ within ${folder}: run the study again from its protocol`,
    );
  }
  const { published, whole } = manifestSchemas();
  const wanted = `the manifest of a report in ${path}, as it was written`;
  const schema = "inputs" in json ? whole : published;
  const cure = "run the study again from its protocol";
  return fitting({ schema, caller, wanted, cure }, json) as PublicManifest | Manifest;
}

/** The full manifest: of a journal's report, or of the folder beside a public one. */
export async function readFullManifest(caller: string, folder: string): Promise<Manifest> {
  const manifest = await readManifest(caller, folder);
  if ("inputs" in manifest) return manifest;
  throw new InputError(
    `${caller} requires the full manifest in ${folder}, got the one of a public report`,
  );
}

/** The exact result of a study, as it was written. */
export async function readStudyResult(caller: string, path: string): Promise<StudyResult> {
  const json = await readJsonFile(path, caller, "the result.json of a report");
  const { kind, version } = json as { readonly kind?: unknown; readonly version?: unknown };
  if (kind !== "study" || version === undefined) {
    const got = kind === "study" ? "one without its version" : `the kind ${String(kind)}`;
    throw new InputError(
      `${caller} requires the whole result of a study, got ${got} in ${path}; take the file as it was written`,
    );
  }
  requireResultVersion(caller, { version });
  return requireStudyResult(caller, requireShape(caller, "StudyResult", json));
}
