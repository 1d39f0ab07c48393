import type { ProblemLog } from "../problemLog.js";
import type { Readings } from "../types.js";

/**
 * Lists decisions that contradict the child's readings, once a child, on the line of the last one:
 * "unable" although both eyes gave a value at one attempt, and "pass" although no eye ever did; and
 * a decision that is not the one of an earlier line, the last one counting.
 */
export function checkDecisions(readings: Readings, column: string | null, log: ProblemLog): void {
  const { n, subject, eye, status, line, repeat, attempt, programmeDecision } = readings;
  if (programmeDecision == null) return;
  const children = subject.labels.length;
  const last = new Int32Array(children).fill(-1);
  const changed = new Uint8Array(children);
  const read = new Uint8Array(children);
  const both = new Uint8Array(children);
  const other = new Map<string, number>();
  const { codes, labels } = programmeDecision;
  const unknown = labels.indexOf("unknown");
  for (let row = 0; row < n; row++) {
    const child = subject.codes[row];
    // beyond the range is an answer too
    const gave = ["measured", "over-range", "under-range"].includes(
      status.labels[status.codes[row]],
    );
    if (gave) {
      read[child] = 1;
      const key = `${child} ${repeat?.[row] ?? 0} ${attempt?.codes[row] ?? 0}`;
      const first = other.get(key);
      if (first === undefined) other.set(key, eye.codes[row]);
      else if (first !== eye.codes[row]) both[child] = 1;
    }
    if (codes[row] === unknown) continue;
    if (last[child] >= 0 && codes[last[child]] !== codes[row]) changed[child] = 1;
    last[child] = row;
  }
  for (let child = 0; child < children; child++) {
    const row = last[child];
    if (row < 0) continue;
    const word = labels[codes[row]];
    if (word === "unable" && both[child] === 1) {
      log.add(line[row], column, word, "decision-unable-read", "kept");
    }
    if (word === "pass" && read[child] === 0) {
      log.add(line[row], column, word, "decision-pass-unread", "kept");
    }
    if (changed[child] === 1) log.add(line[row], column, word, "decision-changed", "kept");
  }
}
