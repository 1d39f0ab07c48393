import { shuffleInPlace } from "simple-statistics";
import { createRandom } from "../inference/index.js";
import { InputError } from "../results/index.js";
import { type Audience, leastFor } from "./audience.js";
import { keptCounts } from "./keptCounts.js";

export interface PointOptions {
  /** "public" by default: cells of at least 11 eyes; "journal": a pair an eye. */
  readonly audience?: Audience;
  /** Pairs are rounded to this step; 0.05 by default. */
  readonly step?: number;
  /** Side of a cell; 0.5 by default. */
  readonly cell?: number;
  /** Seed of the shuffled order; 1 by default. */
  readonly seed?: number;
}

/** Two numbers of one eye, rounded. */
export interface RoundedPair {
  readonly x: number;
  readonly y: number;
}

/** A square around a multiple of its side, and how many eyes lie in it; lower edges included. */
export interface PairCell {
  readonly x: number;
  readonly x2: number;
  readonly y: number;
  readonly y2: number;
  readonly n: number;
}

/** What an audience may see of a set of eyes with two numbers each. */
export type ShownPairs =
  | {
      readonly kind: "rounded-pairs";
      readonly step: number;
      readonly pairs: readonly RoundedPair[];
    }
  | {
      readonly kind: "counted-pairs";
      readonly side: number;
      /** Cells with fewer are left out. */
      readonly least: number;
      readonly cells: readonly PairCell[];
      readonly total: number;
      /** Eyes in cells that are left out. */
      readonly notShown: number;
    };

/** Whether pairs are reduced already, or are rows yet to be reduced. */
export function isShownPairs(pairs: object): pairs is ShownPairs {
  return "kind" in pairs && (pairs.kind === "rounded-pairs" || pairs.kind === "counted-pairs");
}

/** Above this many eyes, marks would only cover each other. */
const mostPairs = 4000;

/**
 * Rows reduced to what a result may carry for an audience: the two numbers, rounded to `step`, in a
 * shuffled order (journal), or counts of at least 11 in square cells (public). More than 4,000
 * eyes are counted in cells for either audience.
 *
 * @throws when the two columns differ in length or hold what is not a number
 */
export function shownPairs(
  { x, y }: { readonly x: ArrayLike<number>; readonly y: ArrayLike<number> },
  { audience = "public", step = 0.05, cell = 0.5, seed = 1 }: PointOptions = {},
): ShownPairs {
  if (x.length !== y.length) {
    throw new InputError(
      `shownPairs requires columns of one length, got ${x.length} and ${y.length}`,
    );
  }
  if (!Array.from(x).every(Number.isFinite) || !Array.from(y).every(Number.isFinite)) {
    throw new InputError("shownPairs requires finite numbers, got a missing or infinite one");
  }
  const least = leastFor(audience);
  if (least > 1 || x.length > mostPairs) return countedPairs(x, y, cell, least);
  const pairs = Array.from(x, (value, i) => ({ x: rounded(value, step), y: rounded(y[i]!, step) }));
  // sorted first, so that the shuffle cannot be undone to the order of the rows
  pairs.sort((a, b) => a.x - b.x || a.y - b.y);
  shuffleInPlace(pairs, createRandom(seed).uniform);
  return { kind: "rounded-pairs", step, pairs };
}

function countedPairs(
  x: ArrayLike<number>,
  y: ArrayLike<number>,
  side: number,
  least: number,
): ShownPairs {
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
  all.sort((a, b) => b.n - a.n || a.x - b.x || a.y - b.y);
  const { kept, rest } = keptCounts(all, ({ n }) => n, least);
  const cells = [...kept].sort((a, b) => a.x - b.x || a.y - b.y);
  return { kind: "counted-pairs", side, least, cells, total: x.length, notShown: rest };
}

function rounded(value: number, step: number): number {
  const number = Number((Math.round(value / step) * step).toFixed(12));
  return number === 0 ? 0 : number;
}
