import {
  type Estimate,
  InputError,
  type Undefined,
  undefinedBecause,
} from "../../results/index.js";
import { type ClusterColumns, type Clusters, takeClusters } from "../../rows/index.js";
import { shareOfRows } from "../shareOfRows.js";

/** Readings alike, and the errors of predictions that hold the stated share of findings there. */
export interface CalibrationRange {
  /** Readings from (included) to (excluded, but for the last). */
  readonly from: number;
  readonly to: number;
  readonly rows: number;
  readonly children: number;
  /** Predicted minus finding; null where the children are too few for any limit at this level. */
  readonly lower: number | null;
  readonly upper: number | null;
  /** Share of rows that such limits, made without their fold, hold; measured, not promised. */
  readonly coverage: Estimate | Undefined;
}

interface HeldOut {
  readonly test: ArrayLike<number>;
  /** Predicted minus finding, of rows whose child was not fitted. */
  readonly errors: Float64Array;
  readonly whose: ClusterColumns;
  readonly children: Clusters;
  /** Who is in one fold: a child, or all children of a site. */
  readonly together: Clusters;
  readonly foldOf: ArrayLike<number>;
}

/** Conformal limits by range of the reading, with their coverage measured across folds. */
export function calibrationRanges(
  held: HeldOut,
  level: number,
  breaks: readonly number[] | undefined,
): { readonly ranges: readonly CalibrationRange[]; readonly coverage: Estimate | Undefined } {
  const { test, errors, whose, children, together, foldOf } = held;
  const n = test.length;
  const sorted = Float64Array.from(test).sort();
  const edges = breaks ?? equalBreaks(sorted, children.count, level);
  if (edges.some((edge, at) => !Number.isFinite(edge) || (at > 0 && !(edge > edges[at - 1])))) {
    throw new InputError(`calibrateReading requires ascending breaks, got ${edges.join(", ")}`);
  }
  const rangeOf = Int32Array.from(test, (value) => edges.filter((edge) => value >= edge).length);
  const holds = new Uint8Array(n);
  const ranges = Array.from({ length: edges.length + 1 }, (_, range) => {
    const rows = Array.from(rangeOf.keys()).filter((row) => rangeOf[row] === range);
    const limits = conformalLimits(
      rows.map((row) => errors[row]),
      level,
    );
    for (const fold of new Set(rows.map((row) => foldOf[together.ofRow[row]]))) {
      const others = rows.filter((row) => foldOf[together.ofRow[row]] !== fold);
      const [low, high] = conformalLimits(
        others.map((row) => errors[row]),
        level,
      );
      for (const row of rows) {
        if (foldOf[together.ofRow[row]] !== fold || low === null || high === null) continue;
        holds[row] = errors[row] >= low && errors[row] <= high ? 1 : 0;
      }
    }
    return {
      from: range === 0 ? sorted[0] : edges[range - 1],
      to: range === edges.length ? sorted[n - 1] : edges[range],
      rows: rows.length,
      children: new Set(rows.map((row) => children.ofRow[row])).size,
      lower: limits[0],
      upper: limits[1],
      coverage: shareHeld(rows, holds, whose, level),
    };
  });
  return { ranges, coverage: shareHeld(Array.from(rangeOf.keys()), holds, whose, level) };
}

/**
 * Limits that hold at least the level of further errors alike: ranks (m + 1)(1 -+ level)/2 of m, as
 * far out as they have to be; null where the sample ends before them.
 */
function conformalLimits(
  errors: readonly number[],
  level: number,
): readonly [number, number] | readonly [null, null] {
  const sorted = Float64Array.from(errors).sort();
  const rank = Math.floor((sorted.length + 1) * ((1 - level) / 2) + 1e-9);
  return rank < 1 ? [null, null] : [sorted[rank - 1], sorted[sorted.length - rank]];
}

/** Ranges of equal numbers of rows, five at most, each with children enough for limits (44 at 0.95). */
function equalBreaks(sorted: Float64Array, children: number, level: number): number[] {
  // 1 - level is rounded: 0.9 asks for 22 children, no more
  const enough = Math.ceil(2.2 / (1 - level) - 1e-9);
  const count = Math.max(1, Math.min(5, Math.floor(children / enough)));
  const places = Array.from({ length: count - 1 }, (_, k) =>
    Math.floor(((k + 1) * sorted.length) / count),
  );
  return [...new Set(places.map((place) => sorted[place]))].filter((edge) => edge > sorted[0]);
}

function shareHeld(
  rows: readonly number[],
  holds: Uint8Array,
  whose: ClusterColumns,
  level: number,
): Estimate | Undefined {
  if (rows.length === 0) return undefinedBecause("no row lies in this range");
  const share = shareOfRows("calibrateReading", takeClusters(whose, rows), rows.length, level);
  return share((at) => holds[rows[at]] === 1);
}
