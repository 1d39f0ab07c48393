import type { DetectedColumn } from "../detect/detected.js";

/** Why a mapping does not read a column. */
export function whyLeftOut({ is, unit, questions }: DetectedColumn): string {
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
  if (is === "other" || is === "sex") {
    return 'no analysis needs it; to carry it along: "own": { "label": "column" } in a block of the mapping';
  }
  if (is === "site")
    return "another place than the one that is read, or of a file without measurements";
  if (is === "examiner") return "who examined, as a code; no analysis needs it";
  return `${is}: no part of a mapping here`;
}
