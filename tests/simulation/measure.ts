import {
  mean,
  medianAbsoluteDeviation,
  sampleCorrelation,
  sampleStandardDeviation,
} from "simple-statistics";
import type { Readings } from "../../src/cohort/types.js";
import type { SimulatedCohort, SimulatedInstrument } from "../../src/simulation/index.js";

/** M of each child's first reading of one eye by one instrument; NaN where none was measured. */
export function readingM(
  { n, readings }: SimulatedCohort,
  instrument: SimulatedInstrument,
  eye: "right" | "left",
  repeat = 1,
): Float64Array {
  const values = new Float64Array(n).fill(Number.NaN);
  const { codes, labels } = readings.instrument;
  const wanted = labels.indexOf(instrument);
  for (let row = 0; row < readings.n; row++) {
    if (codes[row] !== wanted || readings.eye.codes[row] !== (eye === "right" ? 0 : 1)) continue;
    if (!isFirst(readings, row, repeat)) continue;
    values[readings.subject.codes[row]] = readings.sphere[row] + readings.cylinder[row] / 2;
  }
  return values;
}

function isFirst(readings: Readings, row: number, repeat: number): boolean {
  return readings.attempt!.codes[row] === 0 && readings.repeat![row] === repeat;
}

/** Reading minus finding, NaN where no reading. */
export function minus(test: Float64Array, reference: Float64Array): Float64Array {
  return test.map((value, row) => value - reference[row]);
}

/** Mean, SD and number of the values whose row passes; missing ones are left out. */
export function describe(values: Float64Array, passes: (row: number) => boolean = () => true) {
  const kept = Array.from(values).filter((value, row) => !Number.isNaN(value) && passes(row));
  return {
    n: kept.length,
    mean: mean(kept),
    sd: sampleStandardDeviation(kept),
    robustSd: 1.4826 * medianAbsoluteDeviation(kept),
    beyond: (limit: number) => kept.filter((value) => Math.abs(value) > limit).length / kept.length,
  };
}

/** Correlation over the rows where both are there. */
export function correlation(first: Float64Array, second: Float64Array): number {
  const rows = Array.from(first.keys()).filter(
    (row) => !Number.isNaN(first[row]) && !Number.isNaN(second[row]),
  );
  return sampleCorrelation(
    rows.map((row) => first[row]),
    rows.map((row) => second[row]),
  );
}

/** Share of rows that pass. */
export function share(n: number, passes: (row: number) => boolean): number {
  let count = 0;
  for (let row = 0; row < n; row++) if (passes(row)) count++;
  return count / n;
}
