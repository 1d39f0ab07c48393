import type { Part } from "../figureSpec.js";
import { colours } from "../theme.js";
import type { Plotted } from "./points.js";

/** Where the plane ends that has a margin to its right. */
export const besideMargin = [0, { expr: "width - 34" }] as const;

/** Bins of the drawn differences, as bars in a strip at the right edge. */
export function marginLayer(plotted: Plotted, y: Part, bin: number): Part {
  const counts = new Map<number, { y: number; y2: number; n: number; edge: number }>();
  const add = (low: number, high: number, n: number) => {
    const at = counts.get(low) ?? { y: low, y2: high, n: 0, edge: 0 };
    counts.set(low, { ...at, n: at.n + n });
  };
  if (plotted.kind === "cells") for (const cell of plotted.cells) add(cell.y, cell.y2, cell.n);
  else {
    for (const mark of plotted.marks) {
      const at = Math.floor(mark.y / bin + 0.5);
      add(Number(((at - 0.5) * bin).toFixed(9)), Number(((at + 0.5) * bin).toFixed(9)), 1);
    }
  }
  const values = [...counts.values()].sort((a, b) => a.y - b.y);
  const most = Math.max(1, ...values.map(({ n }) => n));
  return {
    data: { values },
    mark: { type: "rect", color: colours.faint, stroke: "#ffffff", strokeWidth: 0.3 },
    encoding: {
      x: {
        field: "n",
        type: "quantitative",
        scale: {
          domain: [0, most],
          range: [{ expr: "width - 30" }, { expr: "width" }],
          nice: false,
        },
        axis: null,
      },
      x2: { field: "edge" },
      y: { field: "y", ...y },
      y2: { field: "y2" },
    },
  };
}
