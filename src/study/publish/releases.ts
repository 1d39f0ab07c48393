import { basename, dirname, join, namesIn, readSmallFile, resolve } from "../../platform/index.js";
import { hashedPseudonyms } from "../../privacy/index.js";
import { InputError } from "../../results/index.js";
import { releasedFrom } from "../run/releasedFrom.js";
import type { StudyResult } from "../run/studyResult.js";
import { confidentialFolder } from "./confidentialFolder.js";
import { type ReleasedChildren, readReleased, type Step, steps } from "./released.js";

/** How the children of two releases lie to each other: none shared, the same, or 1 to 10, or more, in one alone. */
export type Overlap = "none" | "same" | "few" | "many";

/** Whether a second release may stand beside the first. */
export interface ReleaseComparison {
  readonly kind: "release-comparison";
  /** "refused": a difference of 1 to 10 children would follow; "overlapping": some children are in both. */
  readonly verdict: "refused" | "overlapping" | "apart";
  readonly overlap: { readonly [Name in Step]: Overlap };
  readonly message: string;
}

/**
 * Whether two public reports may both be passed on. Where their children (all of the files, the eligible, the
 * compared) differ by 1 to 10, every difference of two totals is a small count, and the second is refused;
 * where some are in both, that is said. Children are known again by their study numbers: reports of files
 * numbered anew look like other children's.
 *
 * @param second folder of the later report
 * @param first, second folders written by `writeReport` for the public, each with its confidential folder beside it
 * @throws InputError when a confidential folder is missing, or was written before it held the children
 *
 * @example
 * import { mkdtempSync, readFileSync } from "node:fs";
 * import { tmpdir } from "node:os";
 * const protocol = defineProtocol({ ...JSON.parse(readFileSync("data/children/protocol.json", "utf8")), audience: "public", outputs: ["markdown"] });
 * const folder = mkdtempSync(`${tmpdir()}/example-releases-`);
 * await writeReport(await runStudy(protocol, { folder: "data/children" }), `${folder}/2024`);
 * (await compareReleases(`${folder}/2024`, `${folder}/2024`)).overlap.compared // => "same"
 */
export async function compareReleases(first: string, second: string): Promise<ReleaseComparison> {
  const [one, other] = await Promise.all([first, second].map(releasedIn));
  return compared(one, other, basename(resolve(first)));
}

/**
 * The reports that children are compared with before a public one is written: those given, and those
 * beside it. One of the same protocol and children is the same release.
 *
 * @returns what is to be told of each report that shares children with this one
 * @throws InputError when the children of one differ from these by 1 to 10
 */
export async function requireReleasable(
  result: StudyResult,
  folder: string,
  earlier: readonly string[] = [],
): Promise<readonly string[]> {
  const own = releasedChildren(result);
  if (own === null) return [];
  const told: string[] = [];
  for (const path of new Set([
    ...(await reportsBeside(folder)),
    ...earlier.map((one) => resolve(one)),
  ])) {
    const before = await releasedIn(path).catch((error: unknown) => {
      // one that was named must be there; one that lies beside may be of an earlier version
      if (earlier.some((one) => resolve(one) === path)) throw error;
      told.push(`Not compared with ${basename(path)}: ${(error as Error).message}`);
      return null;
    });
    if (before === null) continue;
    const found = compared(before, own, basename(path));
    if (found.verdict === "refused") throw new InputError(found.message);
    const isSame =
      before.protocolHash === own.protocolHash &&
      steps.every((step) => found.overlap[step] === "same");
    if (found.verdict === "overlapping" && !isSame) told.push(found.message);
  }
  return told;
}

/** The children of a result that was run here; null where it was read back from JSON. */
export function releasedChildren(result: StudyResult): ReleasedChildren | null {
  const children = releasedFrom(result);
  if (children === undefined) return null;
  const hashes = hashedPseudonyms(children.known, "meridional, children of releases");
  const hashed = (step: Step) => children[step].map((child) => hashes.get(child)!).sort();
  return {
    kind: "released-children",
    version: 1,
    protocolHash: result.protocolHash,
    fewerThan: result.protocol.smallCounts?.fewerThan ?? 11,
    children: {
      known: hashed("known"),
      eligible: hashed("eligible"),
      compared: hashed("compared"),
    },
  };
}

async function reportsBeside(folder: string): Promise<readonly string[]> {
  const parent = dirname(resolve(folder));
  const ending = /-confidential$/;
  const names = (await namesIn(parent).catch(() => [])).filter((name) => ending.test(name));
  return names.sort().map((name) => join(parent, name.replace(ending, "")));
}

async function releasedIn(folder: string): Promise<ReleasedChildren> {
  const apart = confidentialFolder(folder);
  const text = await readSmallFile(join(apart, "children.json"), "compareReleases");
  if (text === null) {
    throw new InputError(
      `compareReleases requires children.json in ${basename(apart)}, got none: run that study again from its protocol, or take the report back`,
    );
  }
  const released = readReleased(parsed(text));
  if (released !== undefined) return released;
  throw new InputError(
    `compareReleases requires children.json of this version in ${basename(apart)}, got another: run that study again from its protocol`,
  );
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return null;
  }
}

const words: { readonly [Name in Step]: string } = {
  known: "the children in the files",
  eligible: "the eligible children",
  compared: "the children with a reading and a finding",
};

function compared(
  first: ReleasedChildren,
  second: ReleasedChildren,
  name: string,
): ReleaseComparison {
  const fewerThan = Math.max(first.fewerThan, second.fewerThan);
  const overlap = {
    known: overlapOf(first.children.known, second.children.known, fewerThan),
    eligible: overlapOf(first.children.eligible, second.children.eligible, fewerThan),
    compared: overlapOf(first.children.compared, second.children.compared, fewerThan),
  };
  const kind = "release-comparison";
  const few = steps.filter((step) => overlap[step] === "few");
  if (few.length > 0) {
    return {
      kind,
      verdict: "refused",
      overlap,
      message: `compareReleases requires children that are the same as those of ${name}, or differ by ${fewerThan} or more, got 1 to ${fewerThan - 1} of ${few.map((step) => words[step]).join(" and ")} in one report alone, whom the difference of the two would show; pass one of them on only: delete the earlier report and its confidential folder if nobody has it, or wait for more children`,
    };
  }
  if (overlap.known === "none") {
    return { kind, verdict: "apart", overlap, message: `No child is in ${name} as well.` };
  }
  const cure =
    overlap.compared === "same"
      ? "One report of one protocol, with the limits of both as its conditions, leaves out what would follow from both."
      : "Pass one of them on only where that matters.";
  return {
    kind,
    verdict: "overlapping",
    overlap,
    message: `Children of ${name} are in this report as well: who has both can learn more than from one. ${cure}`,
  };
}

function overlapOf(
  first: readonly string[],
  second: readonly string[],
  fewerThan: number,
): Overlap {
  const seen = new Set(first);
  const both = second.reduce((count, child) => count + (seen.has(child) ? 1 : 0), 0);
  if (both === 0) return "none";
  const apart = first.length + second.length - 2 * both;
  return apart === 0 ? "same" : apart < fewerThan ? "few" : "many";
}
