import { InputError } from "../../results/index.js";
import type { RocCurve } from "../rocCurve.js";

/** Area under a part of a curve, raw and standardised. */
export interface PartialArea {
  readonly kind: "partial-area";
  readonly axis: "falsePositiveRate" | "truePositiveRate";
  readonly low: number;
  readonly high: number;
  /** The area itself. */
  readonly raw: number;
  /** 0.5 for a test of chance, 1 for a perfect one (McClish 1989). */
  readonly standardised: number;
  /** The raw area of a test of chance, and of a perfect one. */
  readonly chance: number;
  readonly perfect: number;
  readonly n: number;
  readonly method: "trapezoids";
}

/**
 * Area under a part of the curve.
 *
 * Over false-positive rates from low to high: the area below the curve. Over true-positive rates
 * from low to high: the area between the curve and a false-positive rate of 1. Operating points are
 * joined by straight lines. Standardised by McClish 1989: (1 + (raw - chance) / (perfect - chance)) / 2.
 *
 * An area is a proportion, 0 to 1.
 *
 * @param curve from `rocCurve`
 * @param range one of falsePositiveRate or truePositiveRate, as [low, high]
 * @throws when not exactly one range is given, or it is not within [0, 1]
 *
 * @example
 * partialArea(rocCurve({ values: [1, 2, 3, 4], condition: [0, 1, 0, 1] }, { positiveWhen: "high" }), { falsePositiveRate: [0, 0.5] }).raw // => 0.25
 */
export function partialArea(
  curve: RocCurve,
  range: {
    readonly falsePositiveRate?: readonly [number, number];
    readonly truePositiveRate?: readonly [number, number];
  },
): PartialArea {
  const { falsePositiveRate, truePositiveRate } = range ?? {};
  if ((falsePositiveRate === undefined) === (truePositiveRate === undefined)) {
    throw new InputError(
      "partialArea requires one of falsePositiveRate or truePositiveRate, got " +
        (falsePositiveRate === undefined ? "none" : "both"),
    );
  }
  const axis = falsePositiveRate === undefined ? "truePositiveRate" : "falsePositiveRate";
  const [low, high] = requireRange((falsePositiveRate ?? truePositiveRate)!);
  const along = curve.points.map((point) =>
    axis === "falsePositiveRate"
      ? { at: 1 - point.specificity, height: point.sensitivity }
      : { at: point.sensitivity, height: point.specificity },
  );
  const raw = areaBetween(along, low, high);
  const perfect = high - low;
  const chance =
    axis === "falsePositiveRate"
      ? (high ** 2 - low ** 2) / 2
      : ((1 - low) ** 2 - (1 - high) ** 2) / 2;
  return {
    kind: "partial-area",
    axis,
    low,
    high,
    raw,
    standardised: (1 + (raw - chance) / (perfect - chance)) / 2,
    chance,
    perfect,
    n: curve.n,
    method: "trapezoids",
  };
}

/** Area below straight lines between points, from low to high along the axis. */
function areaBetween(
  points: readonly { readonly at: number; readonly height: number }[],
  low: number,
  high: number,
): number {
  let area = 0;
  for (let next = 1; next < points.length; next++) {
    const [a, b] = [points[next - 1], points[next]];
    const from = Math.max(low, a.at);
    const to = Math.min(high, b.at);
    if (!(to > from)) continue;
    const heightAt = (x: number) => a.height + ((b.height - a.height) * (x - a.at)) / (b.at - a.at);
    area += ((heightAt(from) + heightAt(to)) / 2) * (to - from);
  }
  return area;
}

function requireRange([low, high]: readonly [number, number]): readonly [number, number] {
  if (!(low >= 0 && high <= 1 && low < high)) {
    throw new InputError(
      `partialArea requires a range [low, high] within 0 and 1, got [${low}, ${high}]`,
    );
  }
  return [low, high];
}
