import type { OperatingPoint, RocCurve } from "../thresholds/rocCurve.js";
import { smallestCell } from "./points.js";

/** The last point whose rows are all at or beyond the cut-off. */
export function pointAt({ points, positiveWhen }: RocCurve, cutOff: number): OperatingPoint {
  const beyond = (value: number) => (positiveWhen === "high" ? value >= cutOff : value <= cutOff);
  return points.filter((point) => point.cutOff === null || beyond(point.cutOff)).at(-1)!;
}

/** Points at least 11 rows from the last drawn one and from the next marked one. */
export function coarsenedPoints(
  curve: RocCurve,
  marked: readonly number[],
): readonly OperatingPoint[] {
  const referred = (point: OperatingPoint) => point.truePositive + point.falsePositive;
  const kept = new Set([
    curve.points[0]!,
    curve.points.at(-1)!,
    ...marked.map((cutOff) => pointAt(curve, cutOff)),
  ]);
  const fixed = [...kept].map(referred).sort((a, b) => a - b);
  let last = 0;
  for (const point of curve.points) {
    const now = referred(point);
    const next = fixed.find((count) => count >= now)!;
    if (kept.has(point)) last = now;
    else if (now - last >= smallestCell && next - now >= smallestCell) {
      kept.add(point);
      last = now;
    }
  }
  return curve.points.filter((point) => kept.has(point));
}
