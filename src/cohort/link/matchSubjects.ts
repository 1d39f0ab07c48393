import type { Findings, Readings } from "../types.js";

/**
 * Children in the order of the readings' subjects, `withReadings` of them, then the findings' others. A subject all of whose rows
 * were rejected is in the list of words of its file, but in none of its rows: it is no child.
 */
export function matchSubjects(readings: Readings, findings: Findings) {
  const subjects: string[] = [];
  const childOfReading = new Int32Array(readings.subject.labels.length).fill(-1);
  const childOfFinding = new Int32Array(findings.subject.labels.length).fill(-1);
  const codeOf = new Map<string, number>();
  for (const [code, label] of findings.subject.labels.entries()) codeOf.set(label, code);
  const hasReading = subjectsWithRows(readings);
  const hasFinding = subjectsWithRows(findings);
  readings.subject.labels.forEach((label, code) => {
    if (hasReading[code] === 0) return;
    const child = subjects.length;
    subjects.push(label);
    childOfReading[code] = child;
    const other = codeOf.get(label);
    if (other !== undefined) childOfFinding[other] = child;
  });
  const withReadings = subjects.length;
  findings.subject.labels.forEach((label, code) => {
    if (hasFinding[code] === 1 && childOfFinding[code] < 0) {
      childOfFinding[code] = subjects.push(label) - 1;
    }
  });
  return { subjects, withReadings, childOfReading, childOfFinding };
}

function subjectsWithRows({ n, subject }: Readings | Findings): Uint8Array {
  const has = new Uint8Array(subject.labels.length);
  for (let row = 0; row < n; row++) has[subject.codes[row]] = 1;
  return has;
}

/** Eyes that either file has a row of. */
export function knownEyes(
  n: number,
  readings: Readings,
  childOfReading: Int32Array,
  findings: Findings,
  childOfFinding: Int32Array,
) {
  const known = { right: new Uint8Array(n), left: new Uint8Array(n) };
  for (const [data, childOf] of [
    [readings, childOfReading],
    [findings, childOfFinding],
  ] as const) {
    for (let row = 0; row < data.n; row++) {
      const side = data.eye.codes[row] === 0 ? known.right : known.left;
      side[childOf[data.subject.codes[row]]] = 1;
    }
  }
  return known;
}
