import type { MeasurementStatus } from "../../cohort/index.js";
import { plainNumber } from "../detect/columnFacts.js";
import type { DetectedColumn } from "../detect/detected.js";
import { measuredRoles } from "../detect/measurementKind.js";
import { ranges } from "../detect/ranges.js";
import { isBlankMark, statusOf } from "../detect/wordLists.js";
import { prescriptionsOf } from "./prescriptionsOf.js";
import { codesOf } from "./wordCodes.js";

/** Words in place of a power, and what they stand for. */
export function powerMarks(columns: readonly DetectedColumn[]): {
  marks?: Record<string, MeasurementStatus>;
} {
  const marks: Record<string, MeasurementStatus> = {};
  for (const column of columns) {
    if (!measuredRoles.has(column.is)) continue;
    for (const [text] of prescriptionsOf(column)) {
      if (!Number.isNaN(plainNumber(text)) || isBlankMark(text)) continue;
      const status = statusOf(text);
      if (status !== null && status !== "measured") marks[text] = status;
    }
  }
  return Object.keys(marks).length === 0 ? {} : { marks };
}

/**
 * Numbers that could be a power and are none: where sphere, cylinder and axis of an eye hold the same one just as
 * often, and no axis is it (-9), it stands for nothing.
 */
export function codesForNothing(columns: readonly DetectedColumn[]): string[] {
  const found = columns
    .filter(({ is }) => is === "axis")
    .flatMap((axis) => {
      const others = (["sphere", "cylinder"] as const).map((is) =>
        columns.find((one) => one.is === is && one.eye === axis.eye && one.block === axis.block),
      );
      return [...axis.facts.cells].flatMap(([text, times]) => {
        const value = plainNumber(text);
        const none = value < ranges.axis[0] || value > ranges.axis[1];
        const alike = others.every((one) => one?.facts.cells.get(text) === times);
        return none && Math.abs(value) <= ranges.sphere[1] && alike ? [text] : [];
      });
    });
  const meant = columns.filter(
    ({ is }) => is === "gaze-horizontal" || is === "gaze-vertical" || is === "day",
  );
  return [...new Set(found)].filter((text) => !meant.some(({ facts }) => facts.cells.has(text)));
}

/** What the columns write in an empty cell, unless one of them gives it a meaning other than unknown. */
export function blankMarks(columns: readonly DetectedColumn[]): string[] {
  const meant = new Set(
    columns.flatMap((column) =>
      Object.entries(codesOf(column) ?? {}).flatMap(([word, code]) =>
        code === "unknown" ? [] : [word],
      ),
    ),
  );
  const blanks = columns
    // "none" under a diagnosis says that none was found
    .filter(({ is }) => is !== "subject" && is !== "diagnosis")
    .flatMap((column) =>
      prescriptionsOf(column).flatMap(([text]) => (isBlankMark(text) ? [text] : [])),
    );
  return [...new Set(blanks)].filter((word) => !meant.has(word)).sort();
}
