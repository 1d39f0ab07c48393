import type { Calibration } from "../agreement/index.js";
import {
  isShownPairs,
  type PairedColumns,
  type PointOptions,
  type ShownPairs,
  shownPairs,
  shownRange,
} from "../privacy/index.js";
import { type FigureSpec, shownTo } from "../results/index.js";
import { figureSpec } from "./figureSpec.js";
import { cornerLegend, pairLayers } from "./marks/pairLayers.js";
import { noteOf, onCells, placesOf, sameScale } from "./marks/pairMarks.js";
import { numericAxis, seriesLayers } from "./marks/seriesLayers.js";
import { columnMm } from "./theme.js";
import { counted, estimateWords, grouped, number, sentence } from "./words.js";

/**
 * The finding against the reading, with the calibration line over the readings that are drawn (all
 * that were seen, without points) and the line of equality: a research estimate, no prescription.
 *
 * `unit` names the unit on the axis, D by default.
 *
 * @param calibration a result of `calibrateReading` without ages
 * @param points the plotted rows, or points made of them with the reading as x
 *
 * @example
 * const fitted = calibrateReading({ test: [-1, 0, 1, 2, 3, -1, 0, 1, 2, 3], reference: [-1, 1, 3, 5, 7, -1, 1, 3, 5, 7] });
 * calibrationFigure(fitted).name // => "calibration"
 */
export function calibrationFigure(
  calibration: Calibration,
  points?: PairedColumns | ShownPairs,
  options: PointOptions & { readonly unit?: string; readonly row?: string } = {},
): FigureSpec {
  const { unit = "D", row = "eye" } = options;
  const audience = shownTo(options.audience, points);
  const { n, intercept, slope, crossValidated, coverage } = calibration;
  const shown =
    points === undefined || isShownPairs(points)
      ? points
      : shownPairs({ x: points.test, y: points.reference }, { ...options, audience });
  const ends = drawnRange(shown) ?? shownRange(calibration.range.test, audience);
  const rows = ends.flatMap((x) => [
    { series: "calibration", x, y: intercept.value + slope.value * x },
    { series: "equality", x, y: x },
  ]);
  const same = sameScale(shown, rows);
  const x = numericAxis(`Reading (${unit})`, same);
  const y = numericAxis(`Finding at the exam (${unit})`, same);
  const judged = `predicted minus finding in children left out of the fit: bias ${number(crossValidated.bias)} ${unit}, SD ${number(crossValidated.sd)} ${unit}; the limits of a prediction held ${estimateWords(coverage)} of findings`;
  return figureSpec({
    name: "calibration",
    title: "From the reading to a research estimate of the finding",
    caption:
      `Finding against reading, ${counted(n, row)}, with the calibration line and the line of equality; ${judged}. A research estimate, not a prescription. ${noteOf(shown, unit)}`.trimEnd(),
    alt: sentence(
      `Calibration of the reading, n = ${grouped(n)}: intercept ${estimateWords(intercept, unit)}, slope ${estimateWords(slope)}; ${judged}`,
    ),
    widthMm: columnMm.single,
    heightMm: 88,
    isEmpty: rows.length === 0,
    spec: {
      layer: [
        ...pairLayers(shown, { x, y, noun: `${row}s`, legend: cornerLegend }),
        {
          layer: seriesLayers(rows, ["calibration", "equality"], {
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

/** The outermost readings are single eyes, and shown only where marks or cells show them. */
function drawnRange(shown: ShownPairs | undefined): readonly [number, number] | undefined {
  const values = placesOf(shown).map(({ x }) => x);
  return values.length === 0 ? undefined : [Math.min(...values), Math.max(...values)];
}
