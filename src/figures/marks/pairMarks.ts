import {
  differencePoints,
  isShownPairs,
  type PairedColumns,
  type PointOptions,
  type RoundedPair,
  type ShownPairs,
} from "../../privacy/index.js";
import { roomForMarks } from "./seriesLayers.js";

/** Differences that are reduced already, or rows yet to be reduced. */
export function differencesOf(
  points: PairedColumns | ShownPairs | undefined,
  options: PointOptions,
): ShownPairs | undefined {
  return points === undefined || isShownPairs(points) ? points : differencePoints(points, options);
}

/** Whether eyes are counted in cells, and not drawn each. */
export function onCells(
  shown: ShownPairs | undefined,
): shown is Exclude<ShownPairs, { readonly kind: "rounded-pairs" }> {
  return shown !== undefined && shown.kind !== "rounded-pairs";
}

/** Whether there are too few eyes for a single cell. */
export function isNothing(shown: ShownPairs): boolean {
  return onCells(shown) && shown.cells.length === 0;
}

/** The cells with their open sides drawn to the ends of the axes. */
export function toTheEnds(
  shown: ShownPairs | undefined,
  { x: [left, right], y: [below, above] }: { readonly x: Ends; readonly y: Ends },
): ShownPairs | undefined {
  if (shown?.kind !== "coarse-pairs") return shown;
  const cells = shown.cells.map((cell) => ({
    ...cell,
    ...(cell.open?.includes("left") && { x: left }),
    ...(cell.open?.includes("right") && { x2: right }),
    ...(cell.open?.includes("below") && { y: below }),
    ...(cell.open?.includes("above") && { y2: above }),
  }));
  return { ...shown, cells };
}

type Ends = readonly [number, number];

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

/** The note below the figure: what the shading means. */
export function noteOf(shown: ShownPairs | undefined, unit: string, area = `${unit}²`): string {
  if (shown?.kind === "counted-pairs") {
    return `Shading: number in cells of ${shown.side} by ${shown.side} ${unit}.`;
  }
  if (shown?.kind !== "coarse-pairs") return "";
  const { fewerThan, roundTo } = shown.rule;
  return shown.cells.length === 0
    ? `Fewer than ${fewerThan} rows, not drawn.`
    : `Shading: number per area (${area}), of counts to the nearest ${roundTo}, in cells that grow until each holds at least ${fewerThan}; the outermost hold everything beyond.`;
}

/** One scale for two axes of the same quantity, so that the line of equality rises by 45 degrees. */
export function sameScale(
  shown: ShownPairs | undefined,
  lines: readonly RoundedPair[],
): { readonly scale: { readonly domain?: readonly [number, number]; readonly padding?: number } } {
  const ends = [...placesOf(shown), ...lines].flatMap(({ x, y }) => [x, y]);
  if (ends.length === 0) return { scale: {} };
  const domain = [Math.floor(Math.min(...ends)), Math.ceil(Math.max(...ends))] as const;
  if (domain[0] === domain[1]) return { scale: {} };
  return { scale: { domain, ...(onCells(shown) ? {} : roomForMarks) } };
}
