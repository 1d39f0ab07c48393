import type { ProblemLog } from "../problemLog.js";
import type { Findings, Readings } from "../types.js";

/** Lists rows that repeat another row's subject, eye and everything that tells rows apart. */
export function checkDuplicates(data: Readings | Findings, log: ProblemLog): void {
  const { n, subject, eye, line } = data;
  const rowsOf = new Int32Array(2 * subject.labels.length);
  let most = 0;
  for (let row = 0; row < n; row++) {
    const rows = ++rowsOf[2 * subject.codes[row] + eye.codes[row]];
    if (rows > most) most = rows;
  }
  if (most <= 1) return;
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
