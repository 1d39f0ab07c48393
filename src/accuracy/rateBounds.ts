import { type TwoByTwo, type Undefined, undefinedBecause } from "../results/index.js";

/** The least and the greatest value that unknown children allow; no sampling error in it. */
export interface Bounds {
  readonly kind: "bounds";
  readonly low: number;
  readonly high: number;
}

export interface RateBounds {
  readonly sensitivity: Bounds | Undefined;
  readonly specificity: Bounds | Undefined;
  readonly positivePredictiveValue: Bounds | Undefined;
  readonly negativePredictiveValue: Bounds | Undefined;
}

/** The four rates of a worst and a best table as bounds. */
export function rateBounds(worst: TwoByTwo, best: TwoByTwo): RateBounds {
  const of = (right: keyof TwoByTwo, wrong: keyof TwoByTwo) =>
    bounds([worst[right], worst[wrong]], [best[right], best[wrong]]);
  return {
    sensitivity: of("truePositive", "falseNegative"),
    specificity: of("trueNegative", "falsePositive"),
    positivePredictiveValue: of("truePositive", "falsePositive"),
    negativePredictiveValue: of("trueNegative", "falseNegative"),
  };
}

/** Bounds of a share, each end as [part, rest]; undefined where one is 0 of 0. */
export function bounds(
  least: readonly [number, number],
  greatest: readonly [number, number],
): Bounds | Undefined {
  if (least[0] + least[1] === 0 || greatest[0] + greatest[1] === 0) {
    return undefinedBecause("a bound would be 0 of 0");
  }
  return {
    kind: "bounds",
    low: least[0] / (least[0] + least[1]),
    high: greatest[0] / (greatest[0] + greatest[1]),
  };
}
