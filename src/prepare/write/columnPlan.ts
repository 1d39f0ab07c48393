import type { CodedTable } from "../../cohort/index.js";
import type { ColumnChoices, Fate } from "../choices.js";
import type { DatesByCode } from "../dates/childDates.js";
import type { DetectedColumn } from "../detect/detected.js";
import { type AgesApart, agesApart } from "./agesApart.js";
import { type Identifiers, keptCell } from "./cellGuard.js";
import { examplesOf } from "./examplesOf.js";
import { fateOf, losesNothing } from "./fates.js";

/** What becomes of a column, and what is lost with it. */
export interface ColumnPlan {
  readonly detected: DetectedColumn;
  readonly fate: Fate | null;
  /** Each distinct cell as it is kept, by code; only where the column is. */
  readonly kept: readonly string[] | null;
  /** Ages that are written as a column of each unit. */
  readonly ages: AgesApart | null;
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
  columns: readonly DetectedColumn[],
  choice: ColumnChoices | undefined,
  identifiers: Identifiers,
  dates: DatesByCode | undefined,
): ColumnPlan {
  const detected = columns[at];
  const { facts } = detected;
  const fate = choice?.fate ?? fateOf(detected);
  const plan = {
    detected,
    fate,
    kept: null,
    ages: null,
    loses: 0,
    lost: "",
    examples: examplesOf(detected, identifiers),
  };
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
      // nothing is lost yet where the order or the century is asked
      if (detected.questions.some(({ key }) => key === "order" || key === "century")) return plan;
      const loses = dates === undefined ? facts.filled : count((_, code) => dates[code] === null);
      return { ...plan, loses, lost: loses === 0 ? "" : "no date in this order" };
    }
    case "keep": {
      const ages = agesApart(table, at, columns);
      if (ages !== null) {
        const lost =
          ages.lost === 0 ? "" : "an age whose unit is not known, or of 90 years and more";
        return { ...plan, ages, loses: ages.lost, lost };
      }
      const cells = labels.map((label) =>
        label === "" ? "" : keptCell(detected, label, timesOf(label), identifiers),
      );
      const loses = count((_, code) => cells[code] === null);
      const place =
        detected.is === "site" ? '; "is": "other" as well keeps a class or a group' : "";
      const lost =
        loses === 0
          ? ""
          : `could be somebody's, and is none of the column's words or numbers${place}`;
      return { ...plan, kept: cells.map((cell) => cell ?? ""), loses, lost };
    }
    default:
      return plan;
  }
}
