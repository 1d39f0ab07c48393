import {
  isShownPairs,
  type PairedColumns,
  type PointOptions,
  type ShownPairs,
  shownPairs,
} from "../privacy/index.js";
import { type Estimate, type FigureSpec, shownTo, type Undefined } from "../results/index.js";
import { figureSpec } from "./figureSpec.js";
import { cornerLegend, pairLayers } from "./marks/pairLayers.js";
import { noteOf, onCells, sameScale } from "./marks/pairMarks.js";
import { numericAxis, seriesLayers } from "./marks/seriesLayers.js";
import { columnMm } from "./theme.js";
import { counted, estimateWords, grouped, sentence } from "./words.js";

/** A straight line between two methods: a result of `demingRegression` or `passingBablok`. */
export interface RegressionLine {
  readonly n: number;
  readonly slope: Estimate | Undefined;
  readonly intercept: Estimate | Undefined;
}

/**
 * Test against reference with fitted lines and the line of equality.
 *
 * `unit` names the unit on the axis, D by default.
 *
 * @param lines results by the name they are to have in the legend, such as `{ Deming: result }`;
 *   two at most
 * @param points the plotted rows, or points made of them with the reference as x
 *
 * @example
 * const pairs = { test: [1, 2, 3, 4, 5], reference: [0, 2, 3, 3, 5] };
 * methodRegressionFigure({ Deming: demingRegression(pairs, { errorRatio: 1 }) }, pairs, { range: [0, 5] }).name // => "method-regression"
 */
export function methodRegressionFigure(
  lines: { readonly [name: string]: RegressionLine },
  points: PairedColumns | ShownPairs,
  options: PointOptions & {
    readonly quantity?: string;
    readonly unit?: string;
    readonly row?: string;
    /** Where the lines begin and end, in the unit of the reference. */
    readonly range: readonly [number, number];
  },
): FigureSpec {
  const { quantity = "spherical equivalent", unit = "D", row = "eye", range } = options;
  const shown = isShownPairs(points)
    ? points
    : shownPairs(
        { x: points.reference, y: points.test },
        { ...options, audience: shownTo(options.audience, points) },
      );
  const fitted = Object.entries(lines);
  const drawn = fitted.flatMap(([series, { slope, intercept }]) =>
    slope.kind === "undefined" || intercept.kind === "undefined"
      ? []
      : range.map((x) => ({ series, x, y: intercept.value + slope.value * x })),
  );
  const equal = range.map((x) => ({ series: "equality", x, y: x }));
  const n = fitted[0]?.[1].n ?? 0;
  const fits = fitted.map(
    ([name, { slope, intercept }]) =>
      `${name} slope ${estimateWords(slope)}, intercept ${estimateWords(intercept, unit)}`,
  );
  const same = sameScale(shown, [...drawn, ...equal]);
  const x = numericAxis(`Reference (${unit})`, same);
  const y = numericAxis(`Test (${unit})`, same);
  return figureSpec({
    name: "method-regression",
    title: `Test against reference: ${quantity}`,
    caption:
      `Test against reference, ${quantity}, ${counted(n, row)}, with the line of equality and ${fits.join("; ")}. ${noteOf(shown, unit)}`.trimEnd(),
    alt: sentence(`Test against reference, ${quantity}, n = ${grouped(n)}: ${fits.join("; ")}`),
    widthMm: columnMm.single,
    heightMm: 88,
    spec: {
      layer: [
        ...pairLayers(shown, { x, y, noun: `${row}s`, legend: cornerLegend }),
        {
          layer: seriesLayers([...drawn, ...equal], [...fitted.map(([name]) => name), "equality"], {
            x,
            y,
            onCells: onCells(shown),
          }),
        },
      ],
      resolve: { scale: { color: "independent", strokeDash: "independent" } },
    },
  });
}
