import type { CodedTable } from "../../cohort/index.js";
import type { ColumnChoices, Fate } from "../choices.js";
import type { DatesByCode } from "../dates/childDates.js";
import { plainNumber } from "../detect/columnFacts.js";
import type { DetectedColumn } from "../detect/detected.js";
import { measuredRoles } from "../detect/measurementKind.js";
import { maskCell } from "../maskCell.js";
import { type Identifiers, isKnownWord, keptCell } from "./cellGuard.js";
import { fateOf, losesNothing } from "./fates.js";

/** What becomes of a column, and what is lost with it. */
export interface ColumnPlan {
  readonly detected: DetectedColumn;
  readonly fate: Fate | null;
  /** Each distinct cell as it is kept, by code; only where the column is. */
  readonly kept: readonly string[] | null;
  /** Filled cells that are lost: dropped, or emptied. */
  readonly loses: number;
  /** Why they are. */
  readonly lost: string;
  /** Up to three cells, masked where they could say who a child is. */
  readonly examples: readonly string[];
}

export function columnPlan(
  table: CodedTable,
  at: number,
  detected: DetectedColumn,
  choice: ColumnChoices | undefined,
  identifiers: Identifiers,
  dates: DatesByCode | undefined,
): ColumnPlan {
  const { facts } = detected;
  const fate = choice?.fate ?? fateOf(detected);
  const plan = { detected, fate, kept: null, loses: 0, lost: "", examples: examplesOf(detected) };
  const { labels } = table.columns[at];
  const timesOf = (label: string) => facts.cells.get(label) ?? 0;
  const count = (isLost: (label: string, code: number) => boolean) =>
    labels.reduce(
      (sum, label, code) => sum + (label !== "" && isLost(label, code) ? timesOf(label) : 0),
      0,
    );
  switch (fate) {
    case "drop": {
      const loses = losesNothing(detected.is) ? 0 : facts.filled;
      return { ...plan, loses, lost: loses === 0 ? "" : `dropped as ${detected.is}` };
    }
    case "day":
    case "age": {
      const loses = dates === undefined ? facts.filled : count((_, code) => dates[code] === null);
      return { ...plan, loses, lost: loses === 0 ? "" : "no date in this order" };
    }
    case "keep": {
      const cells = labels.map((label) =>
        label === "" ? "" : keptCell(detected, label, timesOf(label), identifiers),
      );
      const loses = count((_, code) => cells[code] === null);
      const lost =
        loses === 0 ? "" : "could be somebody's, and is none of the column's words or numbers";
      return { ...plan, kept: cells.map((cell) => cell ?? ""), loses, lost };
    }
    default:
      return plan;
  }
}

/** The most frequent cells; only numbers of a measurement, and words of a known list, are shown as they are. */
function examplesOf(column: DetectedColumn): string[] {
  const { is, facts } = column;
  const plain = measuredRoles.has(is) || is === "confidence" || is === "pupil";
  const most: [string, number][] = [];
  for (const one of facts.cells) {
    if (most.length === 3 && one[1] <= most[2][1]) continue;
    most.push(one);
    most.sort((a, b) => b[1] - a[1]);
    most.length = Math.min(3, most.length);
  }
  const shown = most.map(([text]) =>
    isKnownWord(column, text) || (plain && text.length <= 6 && Math.abs(plainNumber(text)) < 1000)
      ? text
      : maskCell(text),
  );
  return [...new Set(shown)];
}
