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
  const seen = new Set<string>();
  for (let row = 0; row < data.n; row++) {
    const parts = [data.subject.codes[row], data.eye.codes[row], data.day?.[row] ?? ""];
    parts.push(data.cycloplegia.codes[row]);
    if (data.kind === "readings") {
      parts.push(data.instrument.codes[row], data.repeat?.[row] ?? "");
      parts.push(data.attempt?.codes[row] ?? "", data.correction.codes[row]);
    } else parts.push(data.method.codes[row]);
    const key = parts.join(" ");
    if (seen.has(key)) {
      const eye = data.eye.labels[data.eye.codes[row]];
      log.add(data.line[row], null, eye, "eye-twice", "kept");
    }
    seen.add(key);
  }
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
