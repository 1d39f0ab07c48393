import { type ForAudience, InputError, jointAudience } from "../results/index.js";
import type { PositiveWhen, YesNoColumn } from "../rows/index.js";
import { countByValue, type ValueCounts } from "./countByValue.js";
import { decisionText } from "./cutOffDistribution.js";

/** One decision that a screener could make, and what comes of it. */
export interface OperatingPoint {
  /** Refer at this value and beyond it; null at the first point, where nobody is referred. */
  readonly cutOff: number | null;
  /** The decision in words: ">= 2.5", "<= -3", "nobody". */
  readonly words: string;
  readonly truePositive: number;
  readonly falsePositive: number;
  readonly falseNegative: number;
  readonly trueNegative: number;
  readonly sensitivity: number;
  readonly specificity: number;
}

/** Every operating point, from referring nobody to referring everybody. */
export interface RocCurve extends ForAudience {
  readonly kind: "roc-curve";
  readonly n: number;
  readonly positiveWhen: PositiveWhen;
  readonly weighted: boolean;
  /** Number, or sum of weights, with the condition. */
  readonly withCondition: number;
  readonly withoutCondition: number;
  readonly points: readonly OperatingPoint[];
}

/**
 * Every operating point of one variable against a yes/no condition, with its counts.
 *
 * A row is positive when its value is >= the cut-off (`positiveWhen: "high"`) or <= it (`"low"`);
 * every distinct value is a cut-off, values that differ by binary noise alone are one, so ties are exact. The first point refers nobody, the last, at
 * the least suspicious value, everybody. With `weights` (inverse probabilities of examination) the
 * counts are sums of weights.
 *
 * Cut-offs are in the unit of the values; rates are proportions, 0 to 1.
 *
 * @param data values, condition (true or 1 with it, false or 0 without) and optional weights
 * @throws when a value is not finite, a row's condition is neither yes nor no, lengths differ, the
 *   direction is missing, or one class has no rows
 *
 * @example
 * rocCurve({ values: [1, 2, 2, 3], condition: [0, 0, 1, 1] }, { positiveWhen: "high" }).points[2].sensitivity // => 1
 */
export function rocCurve(
  data: {
    readonly values: ArrayLike<number>;
    readonly condition: YesNoColumn;
    readonly weights?: ArrayLike<number>;
  } & ForAudience,
  options: { readonly positiveWhen: PositiveWhen },
): RocCurve {
  const counts = countByValue("rocCurve", data, options?.positiveWhen);
  return { ...curveFromCounts("rocCurve", counts), ...jointAudience(data) };
}

function curveFromCounts(caller: string, counts: ValueCounts): RocCurve {
  requireBothClasses(caller, counts);
  const { values, positiveWhen, totalWith, totalWithout } = counts;
  let truePositive = 0;
  let falsePositive = 0;
  const point = (cutOff: number | null): OperatingPoint => ({
    cutOff,
    words: decisionText(cutOff, positiveWhen),
    truePositive,
    falsePositive,
    falseNegative: Math.max(0, totalWith - truePositive),
    trueNegative: Math.max(0, totalWithout - falsePositive),
    sensitivity: Math.min(1, truePositive / totalWith),
    specificity: Math.max(0, (totalWithout - falsePositive) / totalWithout),
  });
  const points = [point(null)];
  for (let at = 0; at < values.length; at++) {
    truePositive += counts.withCondition[at];
    falsePositive += counts.withoutCondition[at];
    points.push(point(values[at]));
  }
  return {
    kind: "roc-curve",
    n: counts.n,
    positiveWhen,
    weighted: counts.weighted,
    withCondition: totalWith,
    withoutCondition: totalWithout,
    points,
  };
}

export function requireBothClasses(
  caller: string,
  { totalWith, totalWithout }: Pick<ValueCounts, "totalWith" | "totalWithout">,
): void {
  if (!(totalWith > 0 && totalWithout > 0)) {
    throw new InputError(
      `${caller} requires rows with and rows without the condition, got ${totalWith} with and ${totalWithout} without`,
    );
  }
}
