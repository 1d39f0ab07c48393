import type { ChildColumns } from "../../rows/index.js";

/** Paired measurements; a difference is always test minus reference. */
export interface PairedMeasurements extends ChildColumns {
  readonly test: ArrayLike<number>;
  readonly reference: ArrayLike<number>;
}

/** The same columns for some of the rows. */
export function pickPairs(data: PairedMeasurements, rows: readonly number[]): PairedMeasurements {
  const { test, reference, subjects, units, clusters } = data;
  const pick = <Value>(column: ArrayLike<Value>) => rows.map((row) => column[row]);
  return {
    test: pick(test),
    reference: pick(reference),
    ...(subjects ? { subjects: pick(subjects) } : {}),
    ...(units ? { units: pick(units) } : {}),
    ...(clusters
      ? { clusters: { subject: pick(clusters.subject), site: pick(clusters.site) } }
      : {}),
  };
}
