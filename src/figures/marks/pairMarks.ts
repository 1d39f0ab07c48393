import {
  differencePoints,
  isShownPairs,
  type PairedColumns,
  type PointOptions,
  type RoundedPair,
  type ShownPairs,
} from "../../privacy/index.js";
import { grouped } from "../words.js";

/** Differences that are reduced already, or rows yet to be reduced. */
export function differencesOf(
  points: PairedColumns | ShownPairs | undefined,
  options: PointOptions,
): ShownPairs | undefined {
  return points === undefined || isShownPairs(points) ? points : differencePoints(points, options);
}

/** Whether all eyes lie in cells that are too small to be drawn. */
export function isNothing(shown: ShownPairs): boolean {
  return shown.kind === "counted-pairs" && shown.cells.length === 0;
}

/** Every place that a mark or the corner of a cell stands at. */
export function placesOf(shown: ShownPairs | undefined): readonly RoundedPair[] {
  if (shown === undefined) return [];
  if (shown.kind === "rounded-pairs") return shown.pairs;
  return shown.cells.flatMap(({ x, x2, y, y2 }) =>
    [x, x2].flatMap((across) => [y, y2].map((up) => ({ x: across, y: up }))),
  );
}

/** A scale with room around marks that all stand at one place of an axis; else nothing. */
export function roomAround(
  shown: ShownPairs | undefined,
  axis: "x" | "y",
): { readonly domain?: readonly [number, number] } {
  const values = new Set(
    shown?.kind === "rounded-pairs" ? shown.pairs.map((pair) => pair[axis]) : [],
  );
  const [only] = values;
  return values.size === 1 && only !== undefined ? { domain: [only - 0.5, only + 0.5] } : {};
}

/**
 * The note below the figure: what the shading means, and how many are in cells that are not drawn.
 *
 * @param leftOut how many of how many, in words; null where that is not for the reader
 */
export function noteOf(
  shown: ShownPairs | undefined,
  unit: string,
  leftOut: string | null = leftOutOf(shown),
): string {
  if (shown?.kind !== "counted-pairs") return "";
  const { side, least } = shown;
  const inside = leftOut === null ? "" : ` (${leftOut} in them)`;
  const omitted = least > 1 ? ` Cells of fewer than ${least} are not drawn${inside}.` : "";
  return `Shading: number in cells of ${side} by ${side} ${unit}.${omitted}`;
}

/** "12 of 480", or "none" where every eye has a mark. */
export function leftOutOf(shown: ShownPairs | undefined): string {
  return shown?.kind === "counted-pairs"
    ? `${grouped(shown.notShown)} of ${grouped(shown.total)}`
    : "none";
}

/** One scale for two axes of the same quantity, so that the line of equality rises by 45 degrees. */
export function sameScale(
  shown: ShownPairs | undefined,
  lines: readonly RoundedPair[],
): { readonly scale: { readonly domain?: readonly [number, number] } } {
  const ends = [...placesOf(shown), ...lines].flatMap(({ x, y }) => [x, y]);
  if (ends.length === 0) return { scale: {} };
  const domain = [Math.floor(Math.min(...ends)), Math.ceil(Math.max(...ends))] as const;
  return domain[0] === domain[1] ? { scale: {} } : { scale: { domain } };
}
