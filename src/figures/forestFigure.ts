import type { Estimate, FigureSpec, Undefined } from "../results/index.js";
import { figureSpec } from "./figureSpec.js";
import { numericAxis, referenceLine } from "./seriesLayers.js";
import { colours, columnMm, sizes } from "./theme.js";
import { estimateWords, number, sentence } from "./words.js";

/** One line of a forest figure: a group, a site, an age band, or all together. */
export interface ForestRow {
  readonly label: string;
  readonly n: number;
  readonly estimate: Estimate | Undefined;
  /** Drawn as a diamond below the others. */
  readonly summary?: boolean;
}

/**
 * One estimate with its interval for each group or site, numbers beside them: sensitivity by site,
 * bias by age band, and the like. What could not be estimated keeps its line and says so.
 *
 * @param rows in the order in which they are to stand
 * @param options `quantity` with its `unit` ("" for a proportion); `reference`: a value to compare
 *   with, drawn as a dotted line; `name` of the figure, for files
 *
 * @example
 * forestFigure([{ label: "site A", n: 120, estimate: proportionInterval({ successes: 50, trials: 60 }) }], { quantity: "sensitivity", unit: "" }).name // => "forest"
 */
export function forestFigure(
  rows: readonly ForestRow[],
  options: {
    readonly quantity: string;
    readonly unit: string;
    readonly grouping?: string;
    readonly reference?: number;
    readonly name?: string;
  },
): FigureSpec {
  const { unit, grouping = "group", reference, name = "forest" } = options;
  const decimals = 2;
  const shown = rows.map(({ label, n, estimate, summary = false }, order) => ({
    label: `${label} (n = ${n})`,
    order,
    shape: summary ? "all" : "one",
    ...(estimate.kind === "estimate"
      ? {
          value: estimate.value,
          low: estimate.low,
          high: estimate.high,
          text: `${number(estimate.value, decimals)} (${number(estimate.low, decimals)} to ${number(estimate.high, decimals)})`,
        }
      : { text: "not estimated" }),
  }));
  const drawn = shown.filter((row) => "value" in row);
  const y = {
    field: "label",
    type: "nominal",
    sort: { field: "order" },
    axis: { title: null, domain: false, ticks: false, labelPadding: 6 },
  };
  const x = numericAxis(`${sentence(options.quantity).slice(0, -1)} (${unit || "proportion"})`);
  const total = rows.filter(({ summary }) => !summary).reduce((sum, { n }) => sum + n, 0);
  return figureSpec({
    name,
    title: `${sentence(options.quantity).slice(0, -1)} by ${grouping}`,
    caption: `${sentence(options.quantity).slice(0, -1)} by ${grouping} with intervals, n = ${total}.${rows.some(({ summary }) => summary) ? " Diamond: all together." : ""}${reference === undefined ? "" : ` Dotted line: ${number(reference)}${unit === "" ? "" : ` ${unit}`}.`}`,
    alt: `${sentence(options.quantity).slice(0, -1)} by ${grouping}, n = ${total}: ${rows.map(({ label, n, estimate }) => `${label} (n = ${n}) ${estimateWords(estimate, unit)}`).join("; ")}.`,
    widthMm: columnMm.oneAndHalf,
    heightMm: 18 + 7 * rows.length,
    spec: {
      layer: [
        ...(reference === undefined ? [] : [referenceLine("x", reference, x)]),
        {
          data: { values: drawn },
          mark: { type: "rule", color: colours.ink, strokeWidth: sizes.line },
          encoding: { y, x: { field: "low", ...x }, x2: { field: "high" } },
        },
        {
          data: { values: drawn },
          mark: { type: "point", filled: true, size: 40, color: colours.first, opacity: 1 },
          encoding: {
            y,
            x: { field: "value", ...x },
            shape: {
              field: "shape",
              type: "nominal",
              scale: { domain: ["one", "all"], range: ["square", "diamond"] },
              legend: null,
            },
          },
        },
        {
          data: { values: shown },
          mark: { type: "text", align: "left", baseline: "middle", dx: 6 },
          encoding: { y, x: { value: "width" }, text: { field: "text" } },
        },
      ],
    },
  });
}
