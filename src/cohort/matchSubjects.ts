import type { Findings, Readings } from "./types.js";

/** Children in the order of the readings' subjects, then the findings' others. */
export function matchSubjects(readings: Readings, findings: Findings) {
  const subjects = [...readings.subject.labels];
  const childOfFinding = new Int32Array(findings.subject.labels.length).fill(-1);
  const codeOf = new Map(findings.subject.labels.map((label, code) => [label, code]));
  subjects.forEach((label, child) => {
    const code = codeOf.get(label);
    if (code !== undefined) childOfFinding[code] = child;
  });
  findings.subject.labels.forEach((label, code) => {
    if (childOfFinding[code] < 0) childOfFinding[code] = subjects.push(label) - 1;
  });
  const childOfReading = Int32Array.from(
    { length: readings.subject.labels.length },
    (_, code) => code,
  );
  return { subjects, childOfReading, childOfFinding };
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
