import { InputError, type Undefined, undefinedBecause } from "../../results/index.js";
import type { LimitGroups } from "./limitGroups.js";
import type { LimitsData, LimitsOptions } from "./limitsData.js";
import { type RegressionLimits, regressionLimits } from "./regressionLimits.js";
import type { Trend } from "./trendSlope.js";

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
  if ((options.conditional ?? options.normality) === "skip")
    return undefinedBecause("not asked for");
  if (children < 100) {
    return undefinedBecause(`${children} children: conditional limits need at least 100`);
  }
  const { coverage, level, trend } = options;
  try {
    return regressionLimits(data, { against: trend, coverage, level });
  } catch (error) {
    if (error instanceof InputError)
      return undefinedBecause(
        `the ${trend} does not vary, or all differences lie on one line of it`,
      );
    throw error;
  }
}
