import type { ShownPairs } from "../../privacy/index.js";
import type { Part } from "../figureSpec.js";
import { colours, ramp, sizes } from "../theme.js";
import { onCells } from "./pairMarks.js";

/** Many dots let others shine through; a single one still has 3:1 against the page. */
export const dotOpacity = (marks: number): number => (marks > 400 ? 0.65 : 0.85);

/** The layers that draw eyes: a mark each, or shaded cells with a legend. */
export function pairLayers(
  shown: ShownPairs | undefined,
  {
    x,
    y,
    noun,
    legend = { orient: "top", direction: "horizontal", titleOrient: "left", gradientLength: 70 },
    clip,
    area = "D²",
  }: {
    readonly x: Part;
    readonly y: Part;
    readonly noun: string;
    readonly legend?: Part;
    /** Cells end at the axes, where these end before a cell does. */
    readonly clip?: true;
    /** Unit of the area by which cells of unequal size are shaded; that of two axes in dioptres by default. */
    readonly area?: string;
  },
): readonly Part[] {
  if (shown === undefined) return [];
  if (shown.kind === "rounded-pairs") {
    return [
      {
        data: { values: shown.pairs },
        mark: {
          type: "point",
          filled: true,
          size: sizes.point,
          opacity: dotOpacity(shown.pairs.length),
          color: colours.first,
        },
        encoding: { x: { field: "x", ...x }, y: { field: "y", ...y } },
      },
    ];
  }
  if (shown.cells.length === 0) return [];
  // cells of unequal size: a large one of few eyes is not as dark as a small one of as many
  const isCoarse = shown.kind === "coarse-pairs";
  const cells = shown.cells.map((cell) => ({
    ...cell,
    ...(isCoarse && { density: densityOf(cell) }),
  }));
  return [
    {
      data: { values: cells },
      mark: { type: "rect", stroke: colours.quiet, strokeWidth: 0.3, ...(clip && { clip }) },
      encoding: {
        x: { field: "x", ...x },
        x2: { field: "x2" },
        y: { field: "y", ...y },
        y2: { field: "y2" },
        color: {
          field: isCoarse ? "density" : "n",
          type: "quantitative",
          scale: { type: "log", range: ramp },
          legend: {
            title: isCoarse ? `${noun} per ${area}` : noun,
            offset: 4,
            gradientThickness: 6,
            format: isCoarse ? ".2~r" : "d",
            values: legendValues([shown]),
            ...legend,
          },
        },
      },
    },
  ];
}

/** Eyes per area of a cell, whole numbers from 10 on. */
function densityOf({ n, x, x2, y, y2 }: DrawnCell): number {
  return Number((n / Math.max((x2 - x) * (y2 - y), 1e-6)).toPrecision(2));
}

interface DrawnCell {
  readonly n: number;
  readonly x: number;
  readonly x2: number;
  readonly y: number;
  readonly y2: number;
}

/** The key to the shading where the lower right corner is free. */
export const cornerLegend: Part = {
  orient: "bottom-right",
  direction: "vertical",
  gradientLength: 40,
  offset: 2,
};

/** Least, most, and what lies between on the logarithmic ramp, of all that share a key. */
export function legendValues(planes: readonly (ShownPairs | undefined)[]): readonly number[] {
  const counts = planes.flatMap((shown) => {
    if (!onCells(shown)) return [];
    const { kind, cells } = shown;
    return cells.map((cell) => (kind === "coarse-pairs" ? densityOf(cell) : cell.n));
  });
  const least = Math.min(...counts);
  const most = Math.max(...counts);
  const root = Math.sqrt(least * most);
  const middle = counts.every(Number.isInteger) ? Math.round(root) : Number(root.toPrecision(2));
  return [...new Set([least, middle, most])];
}
