import { problemRules } from "../problemLog.js";
import type { Cohort, Problem } from "../types.js";

/**
 * Findings of a day before the child's reading, with their lines; nothing is left out. A window of
 * days in `linkCohort` leaves such exams out; without one they count as exams after screening.
 *
 * @param file the findings' file, as messages shall name it
 *
 * @example
 * const eye = { subject: "a", eye: "OD", sphere: -1, cylinder: 0, axis: 0 };
 * const [readings, findings] = [await readReadings([{ ...eye, day: 9 }]), await readFindings([{ ...eye, day: 2 }])];
 * examsBeforeScreening(linkCohort({ readings, findings }))[0].rule // => "exam-before-screening"
 */
export function examsBeforeScreening(
  { readings, findings, children }: Cohort,
  file = "findings",
): Problem[] {
  if (readings.day === null || findings.day === null) return [];
  const childOf = new Map(children.subject.map((subject, child) => [subject, child]));
  const problems: Problem[] = [];
  for (let row = 0; row < findings.n; row++) {
    const child = childOf.get(findings.subject.labels[findings.subject.codes[row]]);
    if (child === undefined) continue;
    const screened = (["right", "left"] as const)
      .map((side) => children.readingRow[side][child])
      .filter((at) => at >= 0)
      .map((at) => readings.day![at]);
    const first = Math.min(...screened);
    if (screened.length === 0 || !(findings.day[row] < first)) continue;
    problems.push({
      file,
      row: findings.line[row],
      column: null,
      value: `day ${findings.day[row]}, screened on day ${first}`,
      rule: "exam-before-screening",
      message: problemRules["exam-before-screening"],
      action: "kept",
    });
  }
  return problems;
}
