import type { CodedTable } from "../../cohort/index.js";
import { InputError } from "../../results/index.js";
import type { DetectedFile } from "../detect/detected.js";
import { hasMeasurements } from "../detect/measurementKind.js";
import { isBlankMark } from "../detect/wordLists.js";
import { type IdMatches, idMatches, matchOf } from "./linkReport.js";
import type { Ignorable } from "./normaliseId.js";

export function isNoId(text: string): boolean {
  return text === "" || isBlankMark(text);
}

function idLists(
  tables: readonly CodedTable[],
  subjectAt: readonly number[],
  detected: readonly DetectedFile[],
): string[][] {
  const lists = tables.map((_, file) => {
    const subject = detected[file].columns.at(subjectAt[file]);
    if (subjectAt[file] < 0 || subject === undefined) return [];
    return [...subject.facts.cells.keys()].filter((text) => !isNoId(text));
  });
  const measured = lists.filter((_, file) => hasMeasurements(detected[file].columns));
  return measured.length < 2 ? lists : measured;
}

export function linkOf(
  tables: readonly CodedTable[],
  detected: readonly DetectedFile[],
  subjectAt: readonly number[],
): IdMatches {
  const lists = idLists(tables, subjectAt, detected);
  if (lists.length > 1) return idMatches(lists);
  const alone = matchOf(lists, []);
  return { children: lists.map((list) => list.length), matches: [alone], best: alone };
}

/** Two ids of one file that a way of comparing makes one would give two children one number. */
export function requireNoCollisions(
  tables: readonly CodedTable[],
  subjectAt: readonly number[],
  ignored: readonly Ignorable[],
): void {
  if (ignored.length === 0) return;
  const lists = tables.map(({ columns }, file) =>
    (columns[subjectAt[file]]?.labels ?? []).filter((text) => !isNoId(text)),
  );
  const { collisions } = matchOf(lists, ignored);
  if (collisions === 0) return;
  throw new InputError(
    `prepareFiles requires ids that stay apart, got ${collisions} that would become another child's when ` +
      `${ignored.join(" and ")} are ignored; ignore less`,
  );
}

/** Children of all files with measurements under the chosen way. */
export function matchedChildren(
  tables: readonly CodedTable[],
  detected: readonly DetectedFile[],
  subjectAt: readonly number[],
  link: IdMatches,
  ignored: readonly Ignorable[],
): number {
  // as written is counted already
  if (ignored.length === 0) return link.matches[0].matched;
  return matchOf(idLists(tables, subjectAt, detected), ignored).matched;
}
