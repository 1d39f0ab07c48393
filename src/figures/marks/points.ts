import { createRandom } from "../../inference/index.js";
import { smallestCount } from "../../privacy/index.js";
import { InputError } from "../../results/index.js";
import { grouped } from "../words.js";

/** Who will see a figure: the public sees no mark for one eye. */
export type Audience = "journal" | "public";

export interface PointOptions {
  /** "public" by default: cells of at least 11 eyes; "journal": a mark an eye. */
  readonly audience?: Audience;
  /** Marks are rounded to this step; 0.05 by default. */
  readonly step?: number;
  /** Side of a density cell; 0.5 by default. */
  readonly cell?: number;
  /** Seed of the shuffled order; 1 by default. */
  readonly seed?: number;
}

export interface Mark {
  readonly x: number;
  readonly y: number;
}

/** A square around a multiple of its side, and how many eyes lie in it; lower edges included. */
export interface DensityCell {
  readonly x: number;
  readonly x2: number;
  readonly y: number;
  readonly y2: number;
  readonly n: number;
}

/** What may be drawn of a set of eyes, and what is said about it below the figure. */
export type Plotted =
  | { readonly kind: "marks"; readonly marks: readonly Mark[]; readonly note: string }
  | {
      readonly kind: "cells";
      readonly cells: readonly DensityCell[];
      readonly total: number;
      /** Eyes in cells that are too small to be drawn. */
      readonly notDrawn: number;
      readonly note: string;
    };

/** Whether points are made already, or are rows yet to be made into points. */
export function isPlotted(points: object): points is Plotted {
  return "kind" in points && (points.kind === "marks" || points.kind === "cells");
}

/** Whether all eyes lie in cells that are too small to be drawn. */
export function isNothing(plotted: Plotted): boolean {
  return plotted.kind === "cells" && plotted.cells.length === 0;
}

/** A scale with room around marks that all stand at one place of an axis; else nothing. */
export function roomAround(
  plotted: Plotted | undefined,
  axis: "x" | "y",
): { readonly domain?: readonly [number, number] } {
  const values = new Set(plotted?.kind === "marks" ? plotted.marks.map((mark) => mark[axis]) : []);
  const [only] = values;
  return values.size === 1 && only !== undefined ? { domain: [only - 0.5, only + 0.5] } : {};
}

/** The note below the figure, with the unit of the cells. */
export function noteOf(plotted: Plotted | undefined, unit: string): string {
  return plotted?.note.replace(/( by [\d.]+)(?=\. ?)/, `$1 ${unit}`) ?? "";
}

/** One scale for two axes of the same quantity, so that the line of equality rises by 45 degrees. */
export function sameScale(
  plotted: Plotted | undefined,
  lines: readonly Mark[],
): { readonly scale: { readonly domain?: readonly [number, number] } } {
  const cells = plotted?.kind === "cells" ? plotted.cells : [];
  const marks = plotted?.kind === "marks" ? plotted.marks : [];
  const ends = [
    ...cells.flatMap(({ x, x2, y, y2 }) => [x, x2, y, y2]),
    ...[...marks, ...lines].flatMap(({ x, y }) => [x, y]),
  ];
  if (ends.length === 0) return { scale: {} };
  const domain = [Math.floor(Math.min(...ends)), Math.ceil(Math.max(...ends))] as const;
  return domain[0] === domain[1] ? { scale: {} } : { scale: { domain } };
}

/** Above this many eyes, marks would only cover each other. */
const mostMarks = 4000;

/**
 * Rows reduced to what a figure may carry: the two plotted numbers, rounded to `step`, in a
 * shuffled order (journal), or counts of at least 11 in square cells (public). More than 4,000
 * eyes are drawn as cells for either audience.
 *
 * @throws when the two columns differ in length or hold what is not a number
 */
export function plottedPoints(
  { x, y }: { readonly x: ArrayLike<number>; readonly y: ArrayLike<number> },
  { audience = "public", step = 0.05, cell = 0.5, seed = 1 }: PointOptions = {},
): Plotted {
  if (x.length !== y.length) {
    throw new InputError(
      `plottedPoints requires columns of one length, got ${x.length} and ${y.length}`,
    );
  }
  if (!Array.from(x).every(Number.isFinite) || !Array.from(y).every(Number.isFinite)) {
    throw new InputError("plottedPoints requires finite numbers, got a missing or infinite one");
  }
  if (audience === "public") return densityCells(x, y, cell, smallestCount);
  if (x.length > mostMarks) return densityCells(x, y, cell, 1);
  const marks = Array.from(x, (value, i) => ({ x: rounded(value, step), y: rounded(y[i]!, step) }));
  // sorted first, so that the shuffle cannot be undone to the order of the rows
  marks.sort((a, b) => a.x - b.x || a.y - b.y);
  shuffle(marks, seed);
  return { kind: "marks", marks, note: "" };
}

function densityCells(
  x: ArrayLike<number>,
  y: ArrayLike<number>,
  side: number,
  smallest: number,
): Plotted {
  const counts = new Map<string, number>();
  for (let i = 0; i < x.length; i++) {
    const key = `${Math.floor(x[i]! / side + 0.5)} ${Math.floor(y[i]! / side + 0.5)}`;
    counts.set(key, (counts.get(key) ?? 0) + 1);
  }
  const edge = (index: number) => rounded((index - 0.5) * side, 1e-9);
  const all = [...counts].map(([key, n]) => {
    const [column, row] = key.split(" ").map(Number) as [number, number];
    return { x: edge(column), x2: edge(column + 1), y: edge(row), y2: edge(row + 1), n };
  });
  const cells = enoughLeftOut(all, smallest).sort((a, b) => a.x - b.x || a.y - b.y);
  const notDrawn = x.length - cells.reduce((sum, { n }) => sum + n, 0);
  const drawn = `Shading: number in cells of ${side} by ${side}.`;
  const omitted =
    smallest > 1
      ? ` Cells of fewer than ${smallest} are not drawn (${grouped(notDrawn)} of ${grouped(x.length)} in them).`
      : "";
  return { kind: "cells", cells, total: x.length, notDrawn, note: `${drawn}${omitted}` };
}

/** Cells of at least `smallest`; where fewer than that would be left out together, more are. */
function enoughLeftOut(all: readonly DensityCell[], smallest: number): DensityCell[] {
  const kept = all
    .filter(({ n }) => n >= smallest)
    .sort((a, b) => b.n - a.n || a.x - b.x || a.y - b.y);
  const sum = (cells: readonly DensityCell[]) => cells.reduce((total, { n }) => total + n, 0);
  let out = sum(all) - sum(kept);
  while (out > 0 && out < smallest && kept.length > 0) out += kept.pop()!.n;
  return kept;
}

function rounded(value: number, step: number): number {
  const decimals = Math.max(0, Math.ceil(-Math.log10(step)) + 1);
  const number = Number((Math.round(value / step) * step).toFixed(Math.min(decimals, 12)));
  return number === 0 ? 0 : number;
}

function shuffle(items: unknown[], seed: number): void {
  const random = createRandom(seed);
  for (let i = items.length - 1; i > 0; i--) {
    const j = random.integer(i + 1);
    [items[i], items[j]] = [items[j], items[i]];
  }
}
