import type { DetectedColumn } from "../detect/detected.js";
import { canBeOwn } from "./ownColumns.js";

/** Why a mapping does not read a column. */
export function whyLeftOut(column: DetectedColumn): string {
  const { is, unit, questions, facts } = column;
  if (questions.length > 0) return `${questions[0].ask}?`;
  if (is === "date" || is === "birth-date") return "a date; prepare writes days and ages instead";
  if (is === "age") {
    if (unit === "years-and-months" || unit === "years-or-months" || unit === "unit-column")
      return "ages in years and months; prepare makes a column of each unit";
    return `another age in ${unit}: a mapping reads one column a unit`;
  }
  if (is === "equivalent") return "a stated equivalent whose eye or measurement is not known";
  if (is === "decision")
    return "a decision in words that could mean either; refer, pass or unable are read";
  if (is === "diagnosis") return "diagnosis: kept as a flag of findings only";
  if (facts.filled === 0) return "no cell is filled";
  if (canBeOwn(column)) return "of a file, or a measurement, that the mapping reads nothing of";
  return `${is}: no part of a mapping here`;
}
