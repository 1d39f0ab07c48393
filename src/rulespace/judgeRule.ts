import type { CellCounts } from "../inference/index.js";
import type { SearchGrid } from "./searchRows.js";

/** Adds what one rule does to counts per kind of row: found, with; spared, without the condition. */
export function judgeRule(
  grid: SearchGrid,
  counts: CellCounts,
  rule: number,
  sums: { found: number; ill: number; spared: number; well: number },
): void {
  const { sizes, cells, openCells } = grid;
  const places = placesOf(rule, sizes);
  for (let kind = 0; kind < cells.length; kind++) {
    const ill = counts.withCondition[kind];
    const well = counts.withoutCondition[kind];
    if (ill === 0 && well === 0) continue;
    const passed = within(cells[kind], places, sizes);
    if (openCells !== null && !passed && within(openCells[kind], places, sizes)) continue;
    sums.ill += ill;
    sums.well += well;
    if (passed) sums.spared += well;
    else sums.found += ill;
  }
}

/** Place of a rule on each axis. */
export function placesOf(rule: number, sizes: readonly number[]): number[] {
  const places = new Array<number>(sizes.length);
  let rest = rule;
  for (let axis = sizes.length - 1; axis >= 0; axis--) {
    places[axis] = rest % sizes[axis];
    rest = Math.floor(rest / sizes[axis]);
  }
  return places;
}

/** Whether a row that first passes at a cell passes a rule: no place is lower than the cell's. */
function within(cell: number, places: readonly number[], sizes: readonly number[]): boolean {
  if (cell < 0) return false;
  let rest = cell;
  for (let axis = sizes.length - 1; axis >= 0; axis--) {
    const size = sizes[axis];
    if (rest % size > places[axis]) return false;
    rest = Math.floor(rest / size);
  }
  return true;
}
