import type { LimitInterval } from "./limitOptions.js";
import type { PairedMeasurements } from "./pairedMeasurements.js";
import type { Trend } from "./trendSlope.js";

/** Paired measurements, and which of them may be cut off by the instrument. */
export interface LimitsData extends PairedMeasurements {
  /** Rows whose reading lies at an end of the instrument's range (1 or true): limits with and without. */
  readonly endOfRange?: ArrayLike<number | boolean>;
}

/** What sentences and verdicts go by; fixed by the protocol, never chosen from the data. */
export type LeadingLimits = "percentile" | "normal";

export interface LimitsOptions {
  /** Level of every interval, 0.95 by default. */
  readonly level?: number;
  /** Share of differences between the limits, 0.95 by default. */
  readonly coverage?: number;
  /** SDs from the bias to a limit, instead of `coverage`: 2 for papers that use 2 SD. */
  readonly multiplier?: number;
  readonly interval?: LimitInterval;
  /** Intervals for each limit (default), or tolerance factors for the share between the pair (exact only). */
  readonly intervalFor?: "each" | "pair";
  /** What the slope of the differences is taken on; the mean of both by default. */
  readonly trend?: Trend;
  /** Limits for the mean of so many repeated test readings, 1 by default. */
  readonly readings?: number;
  /** Skewness, excess kurtosis and a test of normality; `"skip"` for millions of rows. */
  readonly normality?: "check" | "skip";
  readonly replicates?: number;
  readonly seed?: number;
  /** The summary that leads in words; "percentile" by default. */
  readonly leads?: LeadingLimits;
  /** Conditional limits from 100 children on; `"skip"` where many results are made, as with normality. */
  readonly conditional?: "compute" | "skip";
}
