import type { ProblemLog } from "./problemLog.js";
import type { Readings } from "./types.js";

/**
 * Lists readings that lie at both ends of an instrument's sphere, as a cut-off range leaves them:
 * the most myopic and the most hyperopic value are equally far from zero, which chance rarely does.
 */
export function checkRangeEnds(readings: Readings, log: ProblemLog): void {
  readings.instrument.labels.forEach((_, instrument) => {
    let low = Number.POSITIVE_INFINITY;
    let high = Number.NEGATIVE_INFINITY;
    for (let row = 0; row < readings.n; row++) {
      const sphere = readings.sphere[row];
      if (readings.instrument.codes[row] !== instrument || Number.isNaN(sphere)) continue;
      if (sphere < low) low = sphere;
      if (sphere > high) high = sphere;
    }
    if (!(low < 0 && low === -high)) return;
    for (let row = 0; row < readings.n; row++) {
      const sphere = readings.sphere[row];
      if (readings.instrument.codes[row] === instrument && Math.abs(sphere) === high) {
        log.add(readings.line[row], null, String(sphere), "suspected-range-end", "kept");
      }
    }
  });
}
