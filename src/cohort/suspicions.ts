import type { ProblemLog } from "./problemLog.js";
import type { Findings, Readings } from "./types.js";

/** Lists what looks wrong in readings; nothing is repaired. */
export function checkReadings(readings: Readings, log: ProblemLog): void {
  checkDuplicates(readings, log);
  checkRangeEnds(readings, log);
}

/** Lists what looks wrong in findings; nothing is repaired. */
export function checkFindings(findings: Findings, stated: string | null, log: ProblemLog): void {
  if (stated !== null) checkStatedEquivalents(findings, stated, log);
  checkDuplicates(findings, log);
}

/** Lists stated equivalents that are not sphere plus half the cylinder; they are kept as written. */
function checkStatedEquivalents(findings: Findings, column: string, log: ProblemLog): void {
  const { statedEquivalent } = findings;
  if (statedEquivalent === null) return;
  for (let row = 0; row < findings.n; row++) {
    const stated = statedEquivalent[row];
    if (Number.isNaN(stated)) continue;
    const computed = findings.sphere[row] + findings.cylinder[row] / 2;
    if (Number.isNaN(computed)) {
      log.add(findings.line[row], column, String(stated), "stated-equivalent-alone", "kept");
    } else if (Math.abs(stated - computed) > 0.0051) {
      // half a cylinder written in steps of 0.25 D may have been rounded to two decimals
      log.add(findings.line[row], column, String(stated), "stated-equivalent", "kept");
    }
  }
}

/** Lists rows that repeat another row's subject, eye and everything that tells rows apart. */
function checkDuplicates(data: Readings | Findings, log: ProblemLog): void {
  const { n, subject, eye, line } = data;
  const rowsOf = new Int32Array(2 * subject.labels.length);
  for (let row = 0; row < n; row++) rowsOf[2 * subject.codes[row] + eye.codes[row]]++;
  const seen = new Set<string>();
  for (let row = 0; row < n; row++) {
    if (rowsOf[2 * subject.codes[row] + eye.codes[row]] === 1) continue;
    const key = keyOf(data, row);
    if (seen.has(key)) log.add(line[row], null, eye.labels[eye.codes[row]], "eye-twice", "kept");
    seen.add(key);
  }
}

function keyOf(data: Readings | Findings, row: number): string {
  const parts = [data.subject.codes[row], data.eye.codes[row], data.day?.[row] ?? 0];
  parts.push(data.cycloplegia.codes[row]);
  if (data.kind === "findings") parts.push(data.method.codes[row]);
  else {
    parts.push(data.instrument.codes[row], data.correction.codes[row]);
    parts.push(data.repeat?.[row] ?? 0, data.attempt?.codes[row] ?? 0);
  }
  return parts.join(" ");
}

/** Lists readings that pile up at both ends of an instrument's sphere, as a cut-off range does. */
function checkRangeEnds(readings: Readings, log: ProblemLog): void {
  readings.instrument.labels.forEach((_, instrument) => {
    let low = Number.POSITIVE_INFINITY;
    let high = Number.NEGATIVE_INFINITY;
    for (let row = 0; row < readings.n; row++) {
      if (readings.instrument.codes[row] !== instrument) continue;
      low = Math.min(low, readings.sphere[row] || low);
      high = Math.max(high, readings.sphere[row] || high);
    }
    // both ends equally far from zero: chance rarely does that, a range does
    if (!(low < 0 && low === -high)) return;
    for (let row = 0; row < readings.n; row++) {
      const sphere = readings.sphere[row];
      if (readings.instrument.codes[row] === instrument && Math.abs(sphere) === high) {
        log.add(readings.line[row], null, String(sphere), "suspected-range-end", "kept");
      }
    }
  });
}
