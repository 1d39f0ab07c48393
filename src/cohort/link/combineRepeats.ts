import { mean, median } from "simple-statistics";
import { averagePrescriptions, type Prescription } from "../../refraction/index.js";
import { groupRows } from "../../rows/index.js";
import { takeRows } from "../read/takeRows.js";
import type { Readings } from "../types.js";

export interface CombineOptions {
  /** Mean of the power vectors, or the median of each of their components. */
  readonly centre: "mean" | "median";
  /** Readings with a lower (or no) confidence score are left out, and counted. */
  readonly confidenceAtLeast?: number;
}

/** Readings with the repeats of an eye made into one, and how many were. */
export interface CombinedRepeats {
  readonly kind: "combined-repeats";
  /** One row for each eye, instrument, cycloplegia, correction and day. */
  readonly readings: Readings;
  /** Measured readings that went in. */
  readonly used: number;
  /** Measured readings below the confidence cut-off, and their share of all measured. */
  readonly lowConfidence: number;
  readonly lowConfidenceShare: number;
  /** Measured readings without sphere, cylinder or a needed axis; they cannot be averaged. */
  readonly incomplete: number;
}

/**
 * Repeats of an eye made into one reading through power vectors, never by averaging axes. An eye
 * none of whose repeats can be used keeps its first row as it is, whatever its status. The result is
 * in minus-cylinder form; its day, line and pupil are those of the first row, its confidence score
 * the mean of the readings used.
 *
 * @example
 * const twice = [-1, -2].map((sphere) => ({ subject: "a", eye: "OD", sphere, cylinder: 0, axis: 0 }));
 * combineRepeats(await readReadings(twice), { centre: "mean" }).readings.sphere[0] // => -1.5
 */
export function combineRepeats(readings: Readings, options: CombineOptions): CombinedRepeats {
  const { centre, confidenceAtLeast } = options;
  const { sphere, cylinder, axis, confidenceScore } = readings;
  const keys = Array.from({ length: readings.n }, (_, row) => groupOf(readings, row));
  const groups = groupRows("combineRepeats", keys, readings.n);
  let used = 0;
  let lowConfidence = 0;
  let incomplete = 0;
  const first = Int32Array.from(groups, ({ rows }) => rows[0]);
  const combined = takeRows(readings, first);
  const status = combined.status.codes;
  groups.forEach(({ rows }, index) => {
    if (combined.statedEquivalent != null) {
      combined.statedEquivalent[index] = centreOfStated(rows) ?? combined.statedEquivalent[index];
    }
    const usable = rows.filter(isUsable);
    if (usable.length === 0) return;
    const average = averagePrescriptions(usable.map(prescription), { centre });
    status[index] = 0;
    combined.sphere[index] = average.sphere;
    combined.cylinder[index] = average.cylinder;
    combined.axis[index] = average.axis ?? Number.NaN;
    if (combined.confidenceScore !== null && confidenceScore !== null) {
      combined.confidenceScore[index] =
        usable.reduce((sum, row) => sum + confidenceScore[row], 0) / usable.length;
    }
  });
  const measured = used + lowConfidence + incomplete;
  return {
    kind: "combined-repeats",
    readings: { ...combined, rawText: null, repeat: null },
    used,
    lowConfidence,
    lowConfidenceShare: measured === 0 ? 0 : lowConfidence / measured,
    incomplete,
  };

  function isUsable(row: number): boolean {
    if (readings.status.codes[row] !== 0) return false;
    if (!isConfident(row)) {
      lowConfidence++;
      return false;
    }
    const power = sphere[row] + cylinder[row] + (cylinder[row] === 0 ? 0 : axis[row]);
    if (Number.isNaN(power)) {
      incomplete++;
      return false;
    }
    used++;
    return true;
  }

  /** The centre of what the usable rows state; null where none states anything. */
  function centreOfStated(rows: readonly number[]): number | null {
    const stated = rows
      .filter((row) => readings.status.codes[row] === 0 && isConfident(row))
      .map((row) => readings.statedEquivalent?.[row] ?? Number.NaN)
      .filter((value) => !Number.isNaN(value));
    if (stated.length === 0) return null;
    return centre === "mean" ? mean(stated) : median(stated);
  }

  function isConfident(row: number): boolean {
    const score = confidenceScore?.[row] ?? Number.NaN;
    return confidenceAtLeast === undefined || score >= confidenceAtLeast;
  }

  function prescription(row: number): Prescription {
    const given = Number.isNaN(axis[row]) ? null : axis[row];
    return { sphere: sphere[row], cylinder: cylinder[row], axis: given };
  }
}

function groupOf(readings: Readings, row: number): string {
  const { subject, eye, instrument, cycloplegia, correction, day } = readings;
  const codes = [subject, eye, instrument, cycloplegia, correction].map(({ codes }) => codes[row]);
  return [...codes, day?.[row] ?? 0].join(" ");
}
