import { type ResampleUnits, withoutState, withState } from "../inference/index.js";
import type { ValueCounts } from "./countByValue.js";

/** Independent rows without weights: the types are the cells themselves. */
export function unitsOfCounts(counts: ValueCounts): ResampleUnits {
  const cells = counts.values.length;
  const found: number[] = [];
  const entries: number[] = [];
  for (let cell = 0; cell < cells; cell++) {
    for (const state of [withoutState, withState]) {
      const count = (state === withState ? counts.withCondition : counts.withoutCondition)[cell];
      if (count === 0) continue;
      found.push(count);
      entries.push(state * cells + cell);
    }
  }
  return {
    cells,
    strata: 1,
    partial: false,
    groupStart: Int32Array.of(0, found.length),
    counts: Int32Array.from(found),
    entryStart: Int32Array.from({ length: entries.length + 1 }, (_, type) => type),
    entries: Int32Array.from(entries),
    weights: null,
  };
}
