import { InputError } from "../../results/index.js";
import type { Readings } from "../types.js";
import { rowBefore } from "./rowBefore.js";

/** Row of the reading that counts for each child and eye, -1 where there is none. */
export function chooseReadings(
  n: number,
  readings: Readings,
  childOf: Int32Array,
  selected: Uint8Array,
  rule: "first" | "last" | "highest-confidence" | "mean" | "median",
): { right: Int32Array; left: Int32Array } {
  if (rule === "highest-confidence" && readings.confidenceScore === null) {
    throw new InputError(
      "linkCohort requires a confidence score for that rule of repeats, got none",
    );
  }
  const chosen = { right: new Int32Array(n).fill(-1), left: new Int32Array(n).fill(-1) };
  for (let row = 0; row < readings.n; row++) {
    if (selected[row] === 0) continue;
    const side = readings.eye.codes[row] === 0 ? chosen.right : chosen.left;
    const child = childOf[readings.subject.codes[row]];
    if (side[child] < 0 || wins(row, side[child])) side[child] = row;
  }
  return chosen;

  function wins(row: number, other: number): boolean {
    if (rule === "highest-confidence") {
      const difference = confidence(row) - confidence(other);
      if (difference !== 0) return difference > 0;
    }
    const { day, repeat, line } = readings;
    return rowBefore(row, other, [day, repeat], line, rule === "last");
  }

  function confidence(row: number): number {
    const score = readings.confidenceScore?.[row] ?? Number.NaN;
    return Number.isNaN(score) ? Number.MIN_SAFE_INTEGER : score;
  }
}
