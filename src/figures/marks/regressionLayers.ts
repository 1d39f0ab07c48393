import type { RegressionLimits } from "../../agreement/index.js";
import type { Part } from "../figureSpec.js";
import { bandLook, colours, type Dash, dashed, halo, sizes } from "../theme.js";
import { number } from "../words.js";

const lines = [
  { name: "upper", words: "upper limit", dash: "long", colour: "second" },
  { name: "bias", words: "bias", dash: "solid", colour: "first" },
  { name: "lower", words: "lower limit", dash: "long", colour: "second" },
] as const;

/**
 * Bias and limits as lines of the magnitude; the limits with the band that holds over all of it. Cells
 * end before the outermost eyes do, and what reaches beyond them is cut: it would squeeze the plane.
 */
export function regressionLayers(
  { points, band }: RegressionLimits,
  { x, y, onCells }: { readonly x: Part; readonly y: Part; readonly onCells: boolean },
): { readonly behind: readonly Part[]; readonly above: readonly Part[] } {
  const cut = onCells ? { clip: true } : {};
  const parts = lines.map(({ name, words, dash, colour }) => {
    const values = points.flatMap((point) => {
      const estimate = point[name];
      if (estimate.kind === "undefined") return [];
      const { value, low, high } = estimate;
      return [{ x: point.at, y: value, low, high }];
    });
    const ends =
      name === "bias" || band.kind === "undefined"
        ? values.filter(({ low, high }) => low !== null && high !== null)
        : band.points.map((point) => ({ x: point.at, low: point[name][0], high: point[name][1] }));
    const last = values.at(-1);
    return {
      band: {
        data: { values: ends },
        mark: { type: "area", ...bandLook(colour), ...cut },
        encoding: { x: { field: "x", ...x }, y: { field: "low", ...y }, y2: { field: "high" } },
      },
      lines: [
        ...(onCells ? [lineMark(dash, halo.color, sizes.line + halo.extraWidth)] : []),
        lineMark(dash, colours[colour], sizes.line),
      ].map((mark) => ({
        data: { values },
        mark: { ...mark, ...cut },
        encoding: { x: { field: "x", ...x }, y: { field: "y", ...y } },
      })),
      label: {
        data: { values: last === undefined ? [] : [last] },
        mark: { type: "text", align: "left", baseline: "middle", dx: 8, lineHeight: 8 },
        encoding: {
          x: { value: "width" },
          y: { field: "y", ...y },
          text: { value: words },
        },
      },
    };
  });
  return {
    behind: parts.map(({ band }) => band),
    above: parts.flatMap(({ lines, label }) => [...lines, label]),
  };
}

/** The fitted lines in words, for the caption. */
export function regressionWords({ intercept, slope, lower, upper }: RegressionLimits): string {
  const line = (from: number, by: number) =>
    `${number(from)} ${by < 0 ? "−" : "+"} ${number(Math.abs(by), 3)} × mean`;
  return `bias ${line(intercept.value, slope.value)}; lower limit ${line(lower.intercept, lower.slope)}; upper limit ${line(upper.intercept, upper.slope)}`;
}

function lineMark(dash: Dash, color: string, strokeWidth: number): Part {
  return { type: "line", color, strokeWidth, ...dashed(dash) };
}
