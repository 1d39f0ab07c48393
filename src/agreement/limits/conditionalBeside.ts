import { InputError, type Undefined, undefinedBecause } from "../../results/index.js";
import type { LimitGroups } from "./limitGroups.js";
import type { LimitsData, LimitsOptions } from "./limitsData.js";
import { type RegressionLimits, regressionLimits } from "./regressionLimits.js";
import type { Trend } from "./trendSlope.js";

/** Rows times replicates that are bearable without being asked for. */
const mostResampled = 2e7;
const conditionalReplicateCount = 500;

/** Conditional limits beside the two summaries, or why there are none. */
export function conditionalBeside(
  data: LimitsData,
  groups: LimitGroups | undefined,
  options: LimitsOptions & {
    readonly coverage: number;
    readonly level: number;
    readonly trend: Trend;
  },
): RegressionLimits | Undefined {
  const rows = data.test.length;
  const children = groups?.subjects.count ?? rows;
  const { conditional = options.normality === "skip" ? "skip" : "compute" } = options;
  if (conditional === "skip") return undefinedBecause("not asked for");
  if (groups?.sites) {
    return undefinedBecause(
      "sites: no interval of conditional limits is known to hold above children",
    );
  }
  if (children < 100) {
    return undefinedBecause(`${children} children: conditional limits need at least 100`);
  }
  if (rows * conditionalReplicateCount > mostResampled) {
    return undefinedBecause(`${rows} rows are many to resample: ask regressionLimits for them`);
  }
  const { coverage, level, seed, trend } = options;
  try {
    return regressionLimits(data, {
      against: trend,
      coverage,
      level,
      seed,
      replicates: conditionalReplicateCount,
    });
  } catch (error) {
    if (error instanceof InputError) return undefinedBecause(`the ${trend} does not vary`);
    throw error;
  }
}
