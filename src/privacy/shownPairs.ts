import { sampleStandardDeviation, shuffleInPlace } from "simple-statistics";
import { type SmallCounts, smallCounts } from "../disclosure/index.js";
import { createRandom } from "../inference/index.js";
import { InputError } from "../results/index.js";
import { toThousandths } from "../rows/index.js";
import type { Audience } from "./audience.js";
import { grownCells, type PairCell } from "./grownCells.js";

export interface PointOptions {
  /** "public" by default: cells that grow until each holds 11 eyes; "journal": a pair an eye. */
  readonly audience?: Audience;
  /** Pairs are rounded to this step; by default 0.05, where all lie on sixteenths 0.0625, so that none moves. */
  readonly step?: number;
  /** Side of a cell before it grows; by default a round step near a third of the SD. */
  readonly cell?: number;
  /** What is too small for the public, and to what counts are rounded; 11 and 5 by default. */
  readonly smallCounts?: SmallCounts;
  /** Seed of the shuffled order; 1 by default. */
  readonly seed?: number;
}

/** Two numbers of one eye, rounded. */
export interface RoundedPair {
  readonly x: number;
  readonly y: number;
}

/** What an audience may see of a set of eyes with two numbers each. */
export type ShownPairs =
  | {
      readonly kind: "rounded-pairs";
      readonly step: number;
      readonly pairs: readonly RoundedPair[];
    }
  | CoarsePairs
  | {
      readonly kind: "counted-pairs";
      readonly side: number;
      readonly cells: readonly PairCell[];
    };

/** For the public: every eye in a cell, counts coarse; no cell where there are too few eyes for one. */
export interface CoarsePairs {
  readonly kind: "coarse-pairs";
  /** What each cell holds at least, and the step of the counts. */
  readonly rule: SmallCounts;
  readonly cells: readonly PairCell[];
}

/** Whether pairs are reduced already, or are rows yet to be reduced. */
export function isShownPairs(pairs: object): pairs is ShownPairs {
  return (
    "kind" in pairs &&
    ["rounded-pairs", "counted-pairs", "coarse-pairs"].includes(pairs.kind as string)
  );
}

/**
 * Pairs for the public: as they are where they are coarse, else counted anew.
 *
 * @throws InputError when pairs are counted in cells for a journal
 */
export function coarsePairs(shown: ShownPairs, rule: SmallCounts = smallCounts): CoarsePairs {
  if (shown.kind === "coarse-pairs") return shown;
  if (shown.kind === "rounded-pairs") {
    const { pairs } = shown;
    const columns = { x: pairs.map(({ x }) => x), y: pairs.map(({ y }) => y) };
    return coarsePairs(shownPairs(columns, { audience: "public", smallCounts: rule }));
  }
  throw new InputError(
    "coarsePairs requires pairs that are coarse or stand each for an eye, got cells of small counts: run the study for the public",
  );
}

/** Above this many eyes, marks would only cover each other. */
export const mostPairs = 4000;

/**
 * Rows reduced to what a result may carry for an audience: the two numbers, rounded to `step`, in a
 * shuffled order (journal; more than 4,000 are counted in square cells), or coarse counts in cells
 * that grow until each holds at least 11 and no eye is left out (public).
 *
 * @throws when the two columns differ in length or hold what is not a number
 */
export function shownPairs(
  { x, y }: { readonly x: ArrayLike<number>; readonly y: ArrayLike<number> },
  {
    audience = "public",
    step = gridOf(x, y),
    cell,
    seed = 1,
    smallCounts: rule = smallCounts,
  }: PointOptions = {},
): ShownPairs {
  if (x.length !== y.length) {
    throw new InputError(
      `shownPairs requires columns of one length, got ${x.length} and ${y.length}`,
    );
  }
  if (!Array.from(x).every(Number.isFinite) || !Array.from(y).every(Number.isFinite)) {
    throw new InputError("shownPairs requires finite numbers, got a missing or infinite one");
  }
  if (audience === "public") {
    const sides = { x: cell ?? sideFor(x), y: cell ?? sideFor(y) };
    return { kind: "coarse-pairs", rule, cells: grownCells(x, y, sides, rule) };
  }
  if (x.length > mostPairs) return countedPairs(x, y, cell ?? 0.5);
  const pairs = Array.from(x, (value, i) => ({ x: rounded(value, step), y: rounded(y[i]!, step) }));
  // sorted first, so that the shuffle cannot be undone to the order of the rows
  pairs.sort((a, b) => a.x - b.x || a.y - b.y);
  shuffleInPlace(pairs, createRandom(seed).uniform);
  return { kind: "rounded-pairs", step, pairs };
}

function countedPairs(x: ArrayLike<number>, y: ArrayLike<number>, side: number): ShownPairs {
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
  all.sort((a, b) => a.x - b.x || a.y - b.y);
  return { kind: "counted-pairs", side, cells: all };
}

/** A round step, the greatest that is no more than a third of the SD. */
function sideFor(values: ArrayLike<number>): number {
  const list = Array.from(values);
  const third = list.length < 2 ? 0 : sampleStandardDeviation(list) / 3;
  return [5, 2, 1, 0.5, 0.25, 0.1].find((step) => step <= third) ?? 0.05;
}

/**
 * Readings in quarters or eighths have means and differences in sixteenths (to the thousandths that M is kept in),
 * which 0.05 would move across a limit.
 */
function gridOf(...columns: readonly ArrayLike<number>[]): number {
  const onGrid = (value: number) => Math.abs(value - rounded(value, sixteenth)) < 0.0011;
  return columns.every((column) => Array.from(column).every(onGrid)) ? sixteenth : 0.05;
}
const sixteenth = 1 / 16;

/** To the nearest step; a half goes away from zero, so that mirror images round alike. */
export function rounded(value: number, step: number): number {
  const steps = toThousandths(Math.abs(value) / step / 1000);
  return steps === 0 ? 0 : Number((Math.sign(value) * steps * step).toFixed(12));
}
