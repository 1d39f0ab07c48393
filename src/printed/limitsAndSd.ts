import { normalQuantile, requireLevel, tQuantile } from "../inference/index.js";
import { InputError } from "../results/index.js";
import { printedNumber, type RoundingRange, roundingRange } from "./printedNumber.js";
import { times } from "./printedRanges.js";

/** A number worked out from printed ones, with the range that their rounding leaves open. */
export interface Converted {
  readonly kind: "converted";
  readonly value: number;
  /** Least and greatest value that the printed digits allow; no confidence interval. */
  readonly from: number;
  readonly to: number;
}

/** Limits worked out from a printed mean and SD. */
export interface ConvertedLimits {
  readonly kind: "converted-limits";
  readonly multiplier: number;
  readonly low: Converted;
  readonly high: Converted;
}

/**
 * Limits of agreement from a printed bias and SD: bias plus and minus `multiplier` SD, 1.959964 by
 * default.
 *
 * @throws when a number cannot be read, the SD is negative or the multiplier not above 0
 *
 * @example
 * limitsFromSd({ bias: "-0.71", sd: "0.67" }).low.value // => -2.0232
 */
export function limitsFromSd(
  printed: { readonly bias: string; readonly sd: string },
  options: { readonly multiplier?: number } = {},
): ConvertedLimits {
  const multiplier = requireMultiplier("limitsFromSd", options.multiplier);
  const bias = printedNumber("limitsFromSd", "bias", printed.bias);
  const sd = printedNumber("limitsFromSd", "sd", printed.sd);
  if (sd.units < 0) throw new InputError(`limitsFromSd requires sd of 0 or more, got ${sd.text}`);
  const centre = roundingRange(bias);
  const reach = times(roundingRange(sd), multiplier);
  return {
    kind: "converted-limits",
    multiplier,
    low: converted(bias.value - multiplier * sd.value, {
      low: centre.low - reach.high,
      high: centre.high - reach.low,
    }),
    high: converted(bias.value + multiplier * sd.value, {
      low: centre.low + reach.low,
      high: centre.high + reach.high,
    }),
  };
}

/**
 * The SD of the differences from printed limits of agreement: their distance divided by twice the
 * `multiplier`, 1.959964 by default.
 *
 * @throws when a limit cannot be read, low is above high or the multiplier not above 0
 *
 * @example
 * sdFromLimits({ low: "-2.02", high: "0.60" }).value // => 0.6684
 */
export function sdFromLimits(
  printed: { readonly low: string; readonly high: string },
  options: { readonly multiplier?: number } = {},
): Converted {
  const multiplier = requireMultiplier("sdFromLimits", options.multiplier);
  return distance("sdFromLimits", printed, 1 / (2 * multiplier));
}

/**
 * The SD of single values from the printed interval of their mean, by Student's quantile.
 *
 * @throws when a limit cannot be read, low is above high, or n is no whole number of 2 or more
 *
 * @example
 * sdFromMeanInterval({ low: "0.86", high: "1.17", n: 249 }).value // => 1.2418
 */
export function sdFromMeanInterval(
  printed: { readonly low: string; readonly high: string; readonly n: number },
  options: { readonly level?: number } = {},
): Converted {
  const caller = "sdFromMeanInterval";
  const { level = 0.95 } = options;
  const { n } = printed;
  requireLevel(caller, level);
  if (!(Number.isInteger(n) && n >= 2)) {
    throw new InputError(`${caller} requires n as a whole number of 2 or more, got ${n}`);
  }
  return distance(caller, printed, Math.sqrt(n) / (2 * tQuantile(1 - (1 - level) / 2, n - 1)));
}

function distance(
  caller: string,
  printed: { readonly low: string; readonly high: string },
  factor: number,
): Converted {
  const low = printedNumber(caller, "low", printed.low);
  const high = printedNumber(caller, "high", printed.high);
  if (low.value > high.value) {
    throw new InputError(`${caller} requires low up to high, got ${low.text} and ${high.text}`);
  }
  const [lower, upper] = [roundingRange(low), roundingRange(high)];
  return converted((high.value - low.value) * factor, {
    low: Math.max(0, upper.low - lower.high) * factor,
    high: (upper.high - lower.low) * factor,
  });
}

const converted = (value: number, { low, high }: RoundingRange): Converted => ({
  kind: "converted",
  value,
  from: low,
  to: high,
});

function requireMultiplier(caller: string, multiplier: number | undefined): number {
  const used = multiplier ?? normalQuantile(0.975);
  if (!(used > 0 && Number.isFinite(used))) {
    throw new InputError(`${caller} requires multiplier above 0, got ${used}`);
  }
  return used;
}
