import { countsAlong, type ShownPairs } from "../../privacy/index.js";
import type { Part } from "../figureSpec.js";
import { colours, page } from "../theme.js";

/** Where the plane ends that has a margin to its right. */
export const besideMargin = [0, { expr: "width - 34" }] as const;

/** Bins of the drawn differences, as bars in a strip at the right edge. */
export function marginLayer(shown: ShownPairs, y: Part, bin: number): Part {
  const values = countsAlong(shown, bin).map((band) => ({ ...band, edge: 0 }));
  const most = Math.max(1, ...values.map(({ n }) => n));
  return {
    data: { values },
    mark: { type: "rect", color: colours.faint, stroke: page, strokeWidth: 0.3 },
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
