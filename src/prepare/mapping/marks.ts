import type { MeasurementStatus } from "../../cohort/index.js";
import { plainNumber } from "../detect/columnFacts.js";
import type { DetectedColumn } from "../detect/detected.js";
import { measuredRoles } from "../detect/measurementKind.js";
import { isBlankMark, statusOf } from "../detect/wordLists.js";
import { codesOf } from "./wordCodes.js";

/** Words in place of a power, and what they stand for. */
export function powerMarks(columns: readonly DetectedColumn[]): {
  marks?: Record<string, MeasurementStatus>;
} {
  const marks: Record<string, MeasurementStatus> = {};
  for (const { is, facts } of columns) {
    if (!measuredRoles.has(is)) continue;
    for (const text of facts.cells.keys()) {
      if (!Number.isNaN(plainNumber(text)) || isBlankMark(text)) continue;
      const status = statusOf(text);
      if (status !== null && status !== "measured") marks[text] = status;
    }
  }
  return Object.keys(marks).length === 0 ? {} : { marks };
}

/** What the columns write in an empty cell, unless one of them gives it a meaning. */
export function blankMarks(columns: readonly DetectedColumn[]): string[] {
  const meant = new Set(columns.flatMap((column) => Object.keys(codesOf(column) ?? {})));
  const blanks = columns
    .filter(({ is }) => is !== "subject")
    .flatMap(({ facts }) => [...facts.cells.keys()].filter(isBlankMark));
  return [...new Set(blanks)].filter((word) => !meant.has(word)).sort();
}
