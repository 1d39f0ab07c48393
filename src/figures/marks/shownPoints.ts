import { shownTogether } from "../../privacy/index.js";
import type { OperatingPoint, RocCurve } from "../../thresholds/index.js";
import type { Audience } from "./points.js";
import { leftOutWords } from "./publicCounts.js";

/** What an audience sees of a curve. */
interface ShownPoints {
  readonly points: readonly OperatingPoint[];
  /** The points of the marked cut-offs, in their order; null where one may not be seen. */
  readonly marked: readonly (OperatingPoint | null)[];
  /** How many were left out, in words; empty where none was. */
  readonly note: string;
}

/** A cut-off; strict where a value at it is not beyond. */
interface CutOff {
  readonly cutOff: number;
  readonly strict?: boolean;
}

/** The last point whose rows are all at or beyond the cut-off, or beyond it where it is strict. */
export function pointAt(
  { points, positiveWhen }: Pick<RocCurve, "points" | "positiveWhen">,
  { cutOff, strict = false }: CutOff,
): OperatingPoint {
  const sign = positiveWhen === "high" ? 1 : -1;
  const beyond = (value: number) => {
    const past = sign * (value - cutOff);
    return strict ? past > 0 : past >= 0;
  };
  return points.filter((point) => point.cutOff === null || beyond(point.cutOff)).at(-1)!;
}

/**
 * The points of a curve that may be drawn together: for the public those whose true and false
 * positives differ by 0 or at least 11 from each other and from none and all; for a journal all that
 * differ by more than a line is wide.
 */
export function shownPoints(
  curve: Pick<RocCurve, "points" | "positiveWhen">,
  marked: readonly CutOff[],
  audience: Audience,
): ShownPoints {
  const { points } = curve;
  const wanted = marked.map((cutOff) => pointAt(curve, cutOff));
  if (audience === "journal") return { points: visiblyApart(points), marked: wanted, note: "" };
  const shown = shownTogether(
    points.map(({ truePositive, falsePositive }) => [truePositive, falsePositive]),
    [points.at(-1)!.truePositive, points.at(-1)!.falsePositive],
    { first: wanted.map((point) => points.indexOf(point)) },
  );
  const kept = points.filter((_, at) => shown[at]);
  return {
    points: kept,
    marked: wanted.map((point) => (shown[points.indexOf(point)] ? point : null)),
    note: leftOutWords(points.length - kept.length, points.length, "points of the curve"),
  };
}

/** Parts of an axis that no printed line shows apart. */
const visible = 1 / 2000;

function visiblyApart(points: readonly OperatingPoint[]): readonly OperatingPoint[] {
  let last = points[0]!;
  return points.filter((point, at) => {
    const moved = Math.max(
      Math.abs(point.sensitivity - last.sensitivity),
      Math.abs(point.specificity - last.specificity),
    );
    if (at > 0 && at < points.length - 1 && moved < visible) return false;
    last = point;
    return true;
  });
}
