import { type Audience, shownPoints } from "../../privacy/index.js";
import { reaches } from "../../rows/index.js";
import type { OperatingPoint, RocCurve } from "../../thresholds/index.js";
import { leftOutWords } from "./leftOutWords.js";

/** What is drawn of a curve. */
interface CurvePoints {
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
function pointAt(
  { points, positiveWhen }: Pick<RocCurve, "points" | "positiveWhen">,
  { cutOff, strict = false }: CutOff,
): OperatingPoint {
  const back = positiveWhen === "high" ? "low" : "high";
  const beyond = (value: number) =>
    strict ? !reaches(value, cutOff, back) : reaches(value, cutOff, positiveWhen);
  return points.filter((point) => point.cutOff === null || beyond(point.cutOff)).at(-1)!;
}

/**
 * The points of a curve that are drawn: for the public those that may be seen together; for a journal
 * all that differ by more than a line is wide.
 */
export function curvePoints(
  curve: Pick<RocCurve, "points" | "positiveWhen">,
  marked: readonly CutOff[],
  audience: Audience,
): CurvePoints {
  const { points } = curve;
  const wanted = marked.map((cutOff) => pointAt(curve, cutOff));
  if (audience === "journal") return { points: visiblyApart(points), marked: wanted, note: "" };
  const shown = shownPoints(points, wanted);
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
