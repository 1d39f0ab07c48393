import { plainNumber } from "../detect/columnFacts.js";
import type { DetectedColumn } from "../detect/detected.js";
import { measuredRoles } from "../detect/measurementKind.js";
import { maskCell } from "../maskCell.js";
import { holdsAnother, type Identifiers, isKnownWord } from "./cellGuard.js";

/** The most frequent cells; only numbers of a measurement, and words of a known list, are shown as they are. */
export function examplesOf(column: DetectedColumn, identifiers: Identifiers): string[] {
  const { is, facts } = column;
  const plain = measuredRoles.has(is) || is === "confidence" || is === "pupil";
  const most: [string, number][] = [];
  for (const one of facts.cells) {
    if (most.length === 3 && one[1] <= most[2][1]) continue;
    most.push(one);
    most.sort((a, b) => b[1] - a[1]);
    most.length = Math.min(3, most.length);
  }
  const shown = most.map(([text, times]) =>
    (isKnownWord(column, text) && !holdsAnother(column, text, times, identifiers)) ||
    (plain && text.length <= 6 && Math.abs(plainNumber(text)) < 1000)
      ? text
      : maskCell(text),
  );
  return [...new Set(shown)];
}
