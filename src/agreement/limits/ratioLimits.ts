import { type Estimate, InputError } from "../../results/index.js";
import type { LimitsOptions } from "./limitsData.js";
import { type LimitsOfAgreement, limitsOfAgreement } from "./limitsOfAgreement.js";
import type { PairedMeasurements } from "./pairedMeasurements.js";

/** Limits of agreement of the ratio of two positive measurements. */
export interface RatioLimits {
  readonly kind: "ratio-limits";
  readonly n: number;
  readonly level: number;
  /** Geometric mean of test / reference. */
  readonly ratio: Estimate;
  readonly lower: Estimate;
  readonly upper: Estimate;
  /** The limits of the differences of natural logarithms that they come from. */
  readonly log: LimitsOfAgreement;
}

/**
 * Limits of agreement of the ratio test / reference, by way of logarithms (Bland and Altman 1999,
 * section 3.1). Only for quantities that are positive by nature, such as a pupil diameter: never for
 * M, J0 or J45, which pass through 0.
 *
 * Test and reference are in one unit; the ratio has none.
 *
 * @throws when a value is not positive, or as `limitsOfAgreement`
 *
 * @example
 * ratioLimits({ test: [2, 4, 9], reference: [1, 4, 3] }).ratio.value // => 1.8171
 */
export function ratioLimits(data: PairedMeasurements, options: LimitsOptions = {}): RatioLimits {
  const logarithm = (name: string, values: ArrayLike<number>) =>
    Float64Array.from(values, (value, row) => {
      if (!(value > 0)) {
        throw new InputError(
          `ratioLimits requires positive values, got ${value} in ${name} at row ${row}`,
        );
      }
      return Math.log(value);
    });
  const log = limitsOfAgreement(
    {
      ...data,
      test: logarithm("test", data.test),
      reference: logarithm("reference", data.reference),
    },
    options,
  );
  return {
    kind: "ratio-limits",
    n: log.n,
    level: log.level,
    ratio: exponential(log.bias),
    lower: exponential(log.lower),
    upper: exponential(log.upper),
    log,
  };
}

function exponential({ value, low, high, level, method }: Estimate): Estimate {
  return {
    kind: "estimate",
    value: Math.exp(value),
    low: Math.exp(low),
    high: Math.exp(high),
    level,
    method: `log-${method}`,
  };
}
