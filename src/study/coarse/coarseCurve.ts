import { type CoarseCount, coarsen, type SmallCounts, totalOf } from "../../disclosure/index.js";
import type { Protocol } from "../../protocol/index.js";
import type { Estimate, Undefined } from "../../results/index.js";
import { directionOf, isStrict, limitAt, limitWords, meets, printSigns } from "../../rows/index.js";
import { areaUnderCurve, type OperatingPoint, type RocCurve } from "../../thresholds/index.js";
import { referralLimit } from "../run/referralLimit.js";
import type { ConditionResult } from "../run/studyResult.js";

/** Children between two stops of a curve, or beyond the outermost: at least 11 of either kind. */
export interface CurveBand {
  readonly side: "refer" | "pass";
  readonly with: CoarseCount;
  readonly without: CoarseCount;
}

/** A curve in stops so far apart that at least 11 with and 11 without lie between any two. */
export interface CoarseCurve {
  /** From the strictest limit to the most lenient. */
  readonly bands: readonly CurveBand[];
  /** Between band and band. */
  readonly stops: readonly {
    readonly words: string;
    readonly prespecified: boolean;
    readonly referred: { readonly with: CoarseCount; readonly without: CoarseCount };
    readonly passed: { readonly with: CoarseCount; readonly without: CoarseCount };
  }[];
  /** The stops as points, from the middles of the coarse counts. */
  readonly curve: Omit<RocCurve, "n"> & { readonly n: null };
  readonly area: Estimate | Undefined;
}

interface Split {
  readonly cutOff: number;
  readonly words: string;
  readonly prespecified: boolean;
  /** Exact counts beyond it, those without a value on their side of the limit included. */
  readonly with: number;
  readonly without: number;
}

/**
 * The curve of a condition in coarse stops. Rows that are not on the curve of readings lie in the
 * outermost band of their side, so that the bands of a side make up that side of the 2x2 table. The
 * limit fixed in advance is a stop first; from it stops follow outwards as soon as a band is full.
 * Null where everybody was not examined, rows are eyes of two a child, or the limit leaves a side with
 * fewer than 11 of one kind.
 */
export function coarseCurve(
  { id, curve, table, cells }: ConditionResult,
  protocol: Protocol,
  rule: SmallCounts,
): CoarseCurve | null {
  const limit = referralLimit(protocol, id);
  if (limit === null || curve.kind === "undefined") return null;
  if (protocol.verification !== "complete" || cells.cells.some(({ eyes }) => eyes === 2))
    return null;
  const least = rule.fewerThan;
  if (Object.values(table).some((count) => count < least)) return null;
  const positiveWhen = directionOf(limit);
  const towards = positiveWhen === "high" ? 1 : -1;
  const points = curve.points.filter(
    (point): point is OperatingPoint & { cutOff: number } => point.cutOff !== null,
  );
  const beyond = points.filter(({ cutOff }) => meets(cutOff, limit));
  const last = beyond.at(-1);
  // those referred or passed without a value on the curve
  const unread = {
    with: table.truePositive - (last?.truePositive ?? 0),
    without: table.falsePositive - (last?.falsePositive ?? 0),
  };
  const splits: Split[] = points.map((point) => ({
    cutOff: point.cutOff,
    words: printSigns(limitWords(limitAt(point.cutOff, positiveWhen))),
    prespecified: false,
    with: point.truePositive + unread.with,
    without: point.falsePositive + unread.without,
  }));
  const fixed: Split = {
    // the least value beyond a limit that is not met by itself
    cutOff: limit.limit + (isStrict(limit) ? 0.001 * towards : 0),
    words: printSigns(limitWords({ ...limit, quantity: undefined })),
    prespecified: true,
    with: table.truePositive,
    without: table.falsePositive,
  };
  const isFull = (one: Pick<Split, "with" | "without">, other: Pick<Split, "with" | "without">) =>
    Math.abs(one.with - other.with) >= least && Math.abs(one.without - other.without) >= least;
  const outwards = (candidates: readonly Split[], end: Pick<Split, "with" | "without">) => {
    const kept: Split[] = [];
    for (const split of candidates) {
      if (isFull(split, kept.at(-1) ?? fixed) && isFull(split, end)) kept.push(split);
    }
    return kept;
  };
  const all = {
    with: table.truePositive + table.falseNegative,
    without: table.falsePositive + table.trueNegative,
  };
  const strict = outwards(splits.slice(0, Math.max(0, beyond.length - 1)).reverse(), {
    with: 0,
    without: 0,
  });
  const lenient = outwards(splits.slice(beyond.length, -1), all);
  const stops = [...strict.reverse(), fixed, ...lenient];
  const bands = [...stops, { ...all, side: "pass" }].map((stop, at): CurveBand => {
    const before = stops[at - 1] ?? { with: 0, without: 0 };
    return {
      side: at <= strict.length ? "refer" : "pass",
      with: coarsen(stop.with - before.with, rule),
      without: coarsen(stop.without - before.without, rule),
    };
  });
  return {
    bands,
    stops: stops.map(({ words, prespecified }, at) => ({
      words,
      prespecified,
      referred: sumOf(bands.slice(0, at + 1)),
      passed: sumOf(bands.slice(at + 1)),
    })),
    ...drawn(bands, stops, positiveWhen, protocol.level),
  };
}

function sumOf(bands: readonly CurveBand[]) {
  return {
    with: totalOf(bands.map((band) => band.with)),
    without: totalOf(bands.map((band) => band.without)),
  };
}

/** The bands as a curve and its area, every child at the middle of its band. */
function drawn(
  bands: readonly CurveBand[],
  stops: readonly Split[],
  positiveWhen: RocCurve["positiveWhen"],
  level: number,
): Pick<CoarseCurve, "curve" | "area"> {
  const middles = bands.map((band) => ({
    with: Math.round(band.with.middle),
    without: Math.round(band.without.middle),
  }));
  const sumTo = (end: number, name: "with" | "without") =>
    middles.slice(0, end).reduce((sum, band) => sum + band[name], 0);
  const [withCondition, withoutCondition] = [
    sumTo(bands.length, "with"),
    sumTo(bands.length, "without"),
  ];
  const everybody = positiveWhen === "high" ? Number.NEGATIVE_INFINITY : Number.POSITIVE_INFINITY;
  const points = Array.from({ length: bands.length + 1 }, (_, at): OperatingPoint => {
    const [truePositive, falsePositive] = [sumTo(at, "with"), sumTo(at, "without")];
    const stop = stops[at - 1];
    return {
      cutOff: at === 0 ? null : (stop?.cutOff ?? everybody),
      words: at === 0 ? "nobody" : (stop?.words ?? "everybody"),
      truePositive,
      falsePositive,
      falseNegative: withCondition - truePositive,
      trueNegative: withoutCondition - falsePositive,
      sensitivity: truePositive / withCondition,
      specificity: (withoutCondition - falsePositive) / withoutCondition,
    };
  });
  const rows = middles.flatMap((band, at) => [
    ...Array<[number, boolean]>(band.with).fill([bands.length - at, true]),
    ...Array<[number, boolean]>(band.without).fill([bands.length - at, false]),
  ]);
  return {
    curve: {
      kind: "roc-curve",
      n: null,
      positiveWhen,
      weighted: false,
      withCondition,
      withoutCondition,
      points,
    },
    area: areaUnderCurve(
      { values: rows.map(([value]) => value), condition: rows.map(([, has]) => has) },
      { positiveWhen: "high", level },
    ),
  };
}
