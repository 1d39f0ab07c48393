import { coarsen, type SmallCounts } from "../disclosure/index.js";

/**
 * A rectangle of the plane, and how many eyes lie in it; lower edges included. On an open side it holds
 * all that lies beyond, and its edge there is only where the drawing ends.
 */
export interface PairCell {
  readonly x: number;
  readonly x2: number;
  readonly y: number;
  readonly y2: number;
  readonly n: number;
  readonly open?: readonly ("left" | "right" | "below" | "above")[];
}

/** A stretch of an axis that holds enough rows, in whole steps. */
interface Stretch {
  readonly from: number;
  readonly to: number;
  readonly isFirst: boolean;
  readonly isLast: boolean;
}

/**
 * Every pair in a cell of at least `fewerThan`: columns of the plane grow until each holds enough, then
 * each column is cut into cells the same way. The outermost cells are open: they hold all that lies
 * beyond, and their outer edges say nothing of how far that is. Counts are made coarse.
 */
export function grownCells(
  x: ArrayLike<number>,
  y: ArrayLike<number>,
  sides: { readonly x: number; readonly y: number },
  rule: SmallCounts,
): PairCell[] {
  const steps = (values: ArrayLike<number>, side: number) =>
    Array.from(values, (value) => Math.floor(value / side + 0.5));
  const across = steps(x, sides.x);
  const up = steps(y, sides.y);
  const all = across.map((_, row) => row);
  const isIn = ({ from, to, isFirst, isLast }: Stretch, at: number) =>
    (isFirst || at >= from) && (isLast || at < to);
  // as many columns as each can be cut into cells, when a cell holds twice the least
  const columns = Math.max(1, Math.floor(Math.sqrt(all.length / (2 * rule.fewerThan))));
  const inColumn = Math.max(rule.fewerThan, Math.ceil(all.length / columns / 2));
  return stretches(across, inColumn).flatMap((column) => {
    const rows = all.filter((row) => isIn(column, across[row]!));
    const own = rows.map((row) => up[row]!);
    return stretches(own, rule.fewerThan).map((cell): PairCell => {
      const n = own.filter((at) => isIn(cell, at)).length;
      const open = [
        ...(column.isFirst ? (["left"] as const) : []),
        ...(column.isLast ? (["right"] as const) : []),
        ...(cell.isFirst ? (["below"] as const) : []),
        ...(cell.isLast ? (["above"] as const) : []),
      ];
      return {
        x: edge(column.from, sides.x),
        x2: edge(column.to, sides.x),
        y: edge(cell.from, sides.y),
        y2: edge(cell.to, sides.y),
        n: coarsen(n, rule).middle,
        open,
      };
    });
  });
}

/** Cuts an axis from its lower end as soon as a stretch holds `least`; what is left joins the last. */
function stretches(at: readonly number[], least: number): Stretch[] {
  if (at.length < least) return [];
  const counts = new Map<number, number>();
  for (const step of at) counts.set(step, (counts.get(step) ?? 0) + 1);
  const steps = [...counts.keys()].sort((one, other) => one - other);
  const starts: number[] = [];
  let held = least;
  let left = at.length;
  for (const step of steps) {
    if (held >= least && left >= least) {
      starts.push(step);
      held = 0;
    }
    held += counts.get(step)!;
    left -= counts.get(step)!;
  }
  // open ends are drawn two steps wide, wherever the outermost pair lies
  const inner = starts.slice(1);
  const first = inner[0] === undefined ? Math.round(median(at)) - 2 : inner[0] - 2;
  const end = inner.at(-1) === undefined ? first + 5 : inner.at(-1)! + 2;
  const edges = [first, ...inner, end];
  return edges.slice(1).map((to, place) => ({
    from: edges[place]!,
    to,
    isFirst: place === 0,
    isLast: place === edges.length - 2,
  }));
}

function median(values: readonly number[]): number {
  const sorted = [...values].sort((one, other) => one - other);
  return sorted[Math.floor(sorted.length / 2)]!;
}

function edge(step: number, side: number): number {
  return Number(((step - 0.5) * side).toFixed(9));
}
