import type { ShownPairs } from "./shownPairs.js";

/** How many of the shown eyes lie in a band of y; the lower edge belongs to it. */
export interface BandCount {
  readonly y: number;
  readonly y2: number;
  readonly n: number;
}

/** The shown pairs counted by their y alone: in the rows of the cells, or in bins around multiples of `bin`. */
export function countsAlong(shown: ShownPairs, bin: number): BandCount[] {
  const edge = (index: number) => Number(((index - 0.5) * bin).toFixed(9));
  const bands =
    shown.kind !== "rounded-pairs"
      ? shown.cells
      : shown.pairs.map(({ y }) => {
          const at = Math.floor(y / bin + 0.5);
          return { y: edge(at), y2: edge(at + 1), n: 1 };
        });
  const counts = new Map<number, BandCount>();
  for (const { y, y2, n } of bands) counts.set(y, { y, y2, n: (counts.get(y)?.n ?? 0) + n });
  return [...counts.values()].sort((a, b) => a.y - b.y);
}
