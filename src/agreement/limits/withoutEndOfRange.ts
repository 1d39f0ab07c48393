import { InputError, type Undefined, undefinedBecause } from "../../results/index.js";
import type { LimitEstimates } from "./limitIntervals.js";
import type { LimitsData } from "./limitsData.js";
import { type PairedMeasurements, pickPairs } from "./pairedMeasurements.js";
import type { PercentileLimits } from "./percentileLimits.js";

/** Limits of the rows whose reading does not lie at an end of the instrument's range. */
export interface WithoutEndOfRange extends LimitEstimates {
  readonly kind: "without-end-of-range";
  /** Rows left out. */
  readonly leftOut: number;
  readonly n: number;
  readonly percentile: PercentileLimits | Undefined;
  readonly excessKurtosis?: number;
}

/** @param limitsOf the limits of some rows, as `limitsOfAgreement` gives them */
export function withoutEndOfRange(
  data: LimitsData,
  marks: ArrayLike<number | boolean>,
  limitsOf: (rows: PairedMeasurements) => Omit<WithoutEndOfRange, "kind" | "leftOut" | "n">,
): WithoutEndOfRange | Undefined {
  const caller = "limitsOfAgreement";
  const n = data.test.length;
  if (marks.length !== n) {
    throw new InputError(
      `${caller} requires endOfRange for each of ${n} rows, got ${marks.length}`,
    );
  }
  const kept: number[] = [];
  for (let row = 0; row < n; row++) {
    if (marks[row] !== 0 && marks[row] !== 1 && typeof marks[row] !== "boolean") {
      throw new InputError(
        `${caller} requires endOfRange of true and false or 1 and 0, got ${marks[row]} in row ${row}`,
      );
    }
    if (!marks[row]) kept.push(row);
  }
  if (kept.length === n) return undefinedBecause("no reading lies at an end of the range");
  try {
    const { bias, sd, lower, upper, percentile, excessKurtosis } = limitsOf(pickPairs(data, kept));
    return {
      kind: "without-end-of-range",
      leftOut: n - kept.length,
      n: kept.length,
      bias,
      sd,
      lower,
      upper,
      percentile,
      ...(excessKurtosis === undefined ? {} : { excessKurtosis }),
    };
  } catch (error) {
    if (error instanceof InputError) return undefinedBecause("too few rows are left without them");
    throw error;
  }
}
