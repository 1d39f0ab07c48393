import { InputError, type Undefined, undefinedBecause } from "../../results/index.js";
import type { Calibration } from "./calibrateReading.js";
import type { CalibrationRange } from "./calibrationRanges.js";

/** The finding expected behind one reading, with its interval. */
export interface PredictedFinding {
  readonly kind: "predicted-finding";
  readonly label: "research estimate";
  readonly value: number;
  /** Limits that hold the stated share of findings alike, from children who were not fitted; null where these are too few. */
  readonly low: number | null;
  readonly high: number | null;
  readonly level: number;
  /** The range of readings that the limits are made from, and the share they held there. */
  readonly range: CalibrationRange;
  readonly caution: string;
}

/**
 * The cycloplegic finding that a calibration predicts for one reading: a research estimate with the
 * conformal limits of readings in the same range, whose measured coverage is given. Undefined outside
 * the range of power or age that was seen.
 *
 * @throws when the reading is not finite, or the age is missing although the calibration uses it
 *
 * @example
 * const fitted = calibrateReading({ test: [-1, 0, 1, 2, 3, -1, 0, 1, 2, 3], reference: [-1, 1, 3, 5, 7, -1, 1, 3, 5, 7] });
 * predictFinding(fitted, { test: 0.5 }).value // => 2
 * predictFinding(fitted, { test: 9 }).kind // => "undefined"
 */
export function predictFinding(
  calibration: Calibration,
  reading: { readonly test: number; readonly ageYears?: number },
): PredictedFinding | Undefined {
  const { range, ranges, perYear, level } = calibration;
  if (!Number.isFinite(reading.test)) {
    throw new InputError(`predictFinding requires a finite reading, got ${reading.test}`);
  }
  if (reading.test < range.test[0] || reading.test > range.test[1]) {
    return undefinedBecause(
      `the reading lies outside the range that was fitted (${range.test.map((power) => Number(power.toFixed(3))).join(" to ")} D)`,
    );
  }
  let value = calibration.intercept.value + calibration.slope.value * reading.test;
  if (perYear !== null && range.ageYears !== null) {
    const { ageYears } = reading;
    if (ageYears === undefined || !Number.isFinite(ageYears)) {
      throw new InputError(
        `predictFinding requires ageYears for this calibration, got ${ageYears}`,
      );
    }
    if (ageYears < range.ageYears[0] || ageYears > range.ageYears[1]) {
      return undefinedBecause(
        `the age lies outside the range that was fitted (${range.ageYears.map((age) => Number(age.toFixed(2))).join(" to ")} years)`,
      );
    }
    value += perYear.value * ageYears;
  }
  const own = ranges.findLast(({ from }) => reading.test >= from) ?? ranges[0];
  return {
    kind: "predicted-finding",
    label: "research estimate",
    value,
    // The error is predicted minus reference, so the finding is predicted minus error.
    low: own.upper === null ? null : value - own.upper,
    high: own.lower === null ? null : value - own.lower,
    level,
    range: own,
    caution: calibration.caution,
  };
}
