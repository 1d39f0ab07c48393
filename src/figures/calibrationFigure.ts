import type { Calibration } from "../agreement/index.js";
import type { FigureSpec } from "../results/index.js";
import { figureSpec } from "./figureSpec.js";
import type { PairedColumns } from "./marks/differencePoints.js";
import { cornerLegend, plottedLayers } from "./marks/plottedLayers.js";
import {
  type Audience,
  isPlotted,
  noteOf,
  type Plotted,
  type PointOptions,
  plottedPoints,
  sameScale,
} from "./marks/points.js";
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
  points?: PairedColumns | Plotted,
  options: PointOptions & { readonly unit?: string; readonly row?: string } = {},
): FigureSpec {
  const { unit = "D", row = "eye" } = options;
  const { n, intercept, slope, crossValidated } = calibration;
  const plotted =
    points === undefined || isPlotted(points)
      ? points
      : plottedPoints({ x: points.test, y: points.reference }, options);
  const ends = drawnRange(plotted) ?? rangeFor(calibration.range.test, options.audience);
  const rows = ends.flatMap((x) => [
    { series: "calibration", x, y: intercept.value + slope.value * x },
    { series: "equality", x, y: x },
  ]);
  const same = sameScale(plotted, rows);
  const x = numericAxis(`Reading (${unit})`, same);
  const y = numericAxis(`Finding at the exam (${unit})`, same);
  const judged = `predicted minus finding in children left out of the fit: bias ${number(crossValidated.bias)} ${unit}, limits ${number(crossValidated.lower)} to ${number(crossValidated.upper)} ${unit}`;
  return figureSpec({
    name: "calibration",
    title: "From the reading to a research estimate of the finding",
    caption:
      `Finding against reading, ${counted(n, row)}, with the calibration line and the line of equality; ${judged}. A research estimate, not a prescription. ${noteOf(plotted, unit)}`.trimEnd(),
    alt: sentence(
      `Calibration of the reading, n = ${grouped(n)}: intercept ${estimateWords(intercept, unit)}, slope ${estimateWords(slope)}; ${judged}`,
    ),
    widthMm: columnMm.single,
    heightMm: 88,
    isEmpty: rows.length === 0,
    spec: {
      layer: [
        ...plottedLayers(plotted, { x, y, noun: `${row}s`, legend: cornerLegend }),
        {
          layer: seriesLayers(rows, ["calibration", "equality"], {
            x,
            y,
            onCells: plotted?.kind === "cells",
          }),
        },
      ],
      resolve: { scale: { color: "independent", strokeDash: "independent" } },
    },
  });
}

/** The range seen; for the public the whole numbers inside it, which show no single eye. */
function rangeFor(
  [least, most]: readonly [number, number],
  audience: Audience = "public",
): readonly number[] {
  if (audience === "journal") return [least, most];
  return Math.ceil(least) < Math.floor(most) ? [Math.ceil(least), Math.floor(most)] : [];
}

/** The outermost readings are single eyes, and shown only where marks or cells show them. */
function drawnRange(plotted: Plotted | undefined): readonly [number, number] | undefined {
  const values =
    plotted?.kind === "cells"
      ? plotted.cells.flatMap(({ x, x2 }) => [x, x2])
      : (plotted?.marks.map(({ x }) => x) ?? []);
  return values.length === 0 ? undefined : [Math.min(...values), Math.max(...values)];
}
