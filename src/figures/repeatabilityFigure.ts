import type { Repeatability } from "../agreement/index.js";
import { isShownPairs, type PointOptions, type ShownPairs, shownPairs } from "../privacy/index.js";
import { type FigureSpec, shownTo } from "../results/index.js";
import { figureSpec } from "./figureSpec.js";
import { pairLayers } from "./marks/pairLayers.js";
import { isNothing, noteOf, onCells, roomAround } from "./marks/pairMarks.js";
import { numericAxis, referenceLine, roomForMarks } from "./marks/seriesLayers.js";
import { columnMm } from "./theme.js";
import { counted, estimateWords, grouped } from "./words.js";

/**
 * Spread of an eye's repeated readings against their mean: does the error of repeats grow with the
 * magnitude? The line is the within-eye SD of the result.
 *
 * `unit` names the unit on the axis, D by default.
 *
 * @param result a result of `repeatability`
 * @param units mean and SD of each eye's readings, or points made of them
 *
 * @example
 * const repeats = repeatability({ values: [1, 2, 3, 3], units: ["a", "a", "b", "b"] });
 * repeatabilityFigure(repeats, { mean: [1.5, 3], sd: [0.71, 0] }).name // => "repeatability"
 */
export function repeatabilityFigure(
  result: Repeatability,
  units: ShownPairs | { readonly mean: ArrayLike<number>; readonly sd: ArrayLike<number> },
  options: PointOptions & {
    readonly quantity?: string;
    readonly unit?: string;
    readonly row?: string;
  } = {},
): FigureSpec {
  const { quantity = "spherical equivalent", unit = "D", row = "eye" } = options;
  const shown = isShownPairs(units)
    ? units
    : shownPairs(
        { x: units.mean, y: units.sd },
        { ...options, audience: shownTo(options.audience, result) },
      );
  const cells = onCells(shown);
  const x = numericAxis(`Mean of the readings of one ${row} (${unit})`, {
    scale: { ...roomAround(shown, "x"), ...(cells ? {} : roomForMarks) },
  });
  const y = numericAxis(`SD of the readings of one ${row} (${unit})`, {
    // an SD of 0 stands above the axis, not on it
    scale: cells ? { zero: true, domainMin: 0 } : { zero: true, nice: false, ...roomForMarks },
  });
  const sd = result.withinSd;
  return figureSpec({
    name: "repeatability",
    title: `Repeatability against magnitude: ${quantity}`,
    caption:
      `SD of repeated readings of one ${row} against their mean, ${quantity}, ${counted(result.units, row)} with ${counted(result.n, "reading")}. Dotted line: within-${row} SD, ${estimateWords(sd, unit)}; repeatability coefficient ${estimateWords(result.coefficient, unit)}. ${noteOf(shown, unit)}`.trimEnd(),
    alt: `SD of repeated readings against their mean, ${quantity}, n = ${grouped(result.n)} readings of ${counted(result.units, row)}: within-${row} SD ${estimateWords(sd, unit)}; repeatability coefficient ${estimateWords(result.coefficient, unit)}; slope on magnitude ${estimateWords(result.magnitudeSlope)}.`,
    widthMm: columnMm.single,
    heightMm: 66,
    isEmpty: sd.kind === "undefined" && isNothing(shown),
    spec: {
      layer: [
        ...pairLayers(shown, { x, y, noun: `${row}s`, clip: true }),
        ...(sd.kind === "estimate" ? [referenceLine("y", sd.value, y)] : []),
      ],
    },
  });
}
