import type { ProblemLog } from "../problemLog.js";
import type { Readings } from "../types.js";

/**
 * Lists readings that lie at both ends of an instrument's sphere, as a cut-off range leaves them:
 * the most myopic and the most hyperopic value are equally far from zero, which chance rarely does.
 */
export function checkRangeEnds(readings: Readings, log: ProblemLog): void {
  const { n, sphere, line } = readings;
  const { codes, labels } = readings.instrument;
  const lowest = new Float64Array(labels.length).fill(Number.POSITIVE_INFINITY);
  const highest = new Float64Array(labels.length).fill(Number.NEGATIVE_INFINITY);
  for (let row = 0; row < n; row++) {
    const instrument = codes[row];
    if (sphere[row] < lowest[instrument]) lowest[instrument] = sphere[row];
    if (sphere[row] > highest[instrument]) highest[instrument] = sphere[row];
  }
  const cutOff = labels.map((_, instrument) => {
    const low = lowest[instrument];
    return low < 0 && low === -highest[instrument];
  });
  if (!cutOff.includes(true)) return;
  for (let row = 0; row < n; row++) {
    const instrument = codes[row];
    if (cutOff[instrument] && Math.abs(sphere[row]) === highest[instrument]) {
      log.add(line[row], null, String(sphere[row]), "suspected-range-end", "kept");
    }
  }
}
