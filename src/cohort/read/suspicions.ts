import type { ProblemLog } from "../problemLog.js";
import type { Findings, Readings } from "../types.js";
import { checkDecisions } from "./checkDecisions.js";
import { checkDuplicates } from "./checkDuplicates.js";
import { checkRangeEnds } from "./checkRangeEnds.js";

/** Lists what looks wrong in readings; nothing is repaired. */
export function checkReadings(
  readings: Readings,
  decisionColumn: string | null,
  log: ProblemLog,
): void {
  checkDuplicates(readings, log);
  checkRangeEnds(readings, log);
  checkAges(readings, log);
  checkLastDigits(readings, log);
  checkDecisions(readings, decisionColumn, log);
}

/** Lists what looks wrong in findings; nothing is repaired. */
export function checkFindings(findings: Findings, log: ProblemLog): void {
  checkDuplicates(findings, log);
  checkAges(findings, log);
  checkLastDigits(findings, log);
}

/**
 * Lists stated equivalents that are not sphere plus half the cylinder; they are kept as written.
 *
 * @param columnOf the column that a row's equivalent stands in
 */
export function checkStatedEquivalents(
  data: Readings | Findings,
  columnOf: (row: number) => string | null,
  log: ProblemLog,
): void {
  const { statedEquivalent } = data;
  if (statedEquivalent == null) return;
  for (let row = 0; row < data.n; row++) {
    const stated = statedEquivalent[row];
    if (Number.isNaN(stated)) continue;
    const column = columnOf(row);
    const computed = data.sphere[row] + data.cylinder[row] / 2;
    if (Number.isNaN(computed)) {
      log.add(data.line[row], column, String(stated), "stated-equivalent-alone", "kept");
    } else if (Math.abs(stated - computed) > 0.0051) {
      // half a cylinder written in steps of 0.25 D may have been rounded to two decimals
      log.add(data.line[row], column, String(stated), "stated-equivalent", "kept");
    }
  }
}

/**
 * Lists rows whose age contradicts the subject's first row: younger at a later day, or further apart
 * than the days between allow. Without days, ages of one file may differ by nothing.
 */
function checkAges(data: Readings | Findings, log: ProblemLog) {
  if (data.ageMonths !== null) checkAgesOf(data, data.ageMonths, 30.4375, log);
  if (data.ageYears !== null) checkAgesOf(data, data.ageYears, 365.25, log);
}

function checkAgesOf(
  { n, subject, line, day }: Readings | Findings,
  age: Float64Array,
  daysPerUnit: number,
  log: ProblemLog,
) {
  const first = new Int32Array(subject.labels.length).fill(-1);
  for (let row = 0; row < n; row++) {
    if (Number.isNaN(age[row])) continue;
    const code = subject.codes[row];
    if (first[code] < 0) {
      first[code] = row;
      continue;
    }
    const days = day === null ? 0 : day[row] - day[first[code]];
    const expected = (Number.isNaN(days) ? 0 : days) / daysPerUnit;
    // completed units: either age may have been cut by almost one of them
    const allowed = day === null ? 0 : 1 + 1e-9;
    if (Math.abs(age[row] - age[first[code]] - expected) > allowed) {
      log.add(line[row], null, String(age[row]), "age-contradicts", "kept");
    }
  }
}

/**
 * Lists a heap of last digits: spheres off the quarter-dioptre grid are expected to use all
 * hundredths alike; where one of them holds over half of at least 100, somebody rounded.
 */
function checkLastDigits({ n, sphere }: Readings | Findings, log: ProblemLog): void {
  const counts = new Int32Array(100);
  let total = 0;
  let fine = 0;
  for (let row = 0; row < n; row++) {
    if (Number.isNaN(sphere[row])) continue;
    const hundredths = Math.round(Math.abs(sphere[row]) * 100) % 100;
    counts[hundredths]++;
    total++;
    if (hundredths % 25 !== 0) fine++;
  }
  // a file on the quarter-dioptre grid uses four endings; more than half on one of them is a heap
  const grid = fine < total / 20;
  counts.forEach((count, hundredths) => {
    if (total >= 100 && count > total * (grid ? 0.5 : 0.3)) {
      const ending = `.${String(hundredths).padStart(2, "0")} in ${count} of ${total} spheres`;
      log.add(null, null, ending, "heaping", "kept");
    }
  });
}
