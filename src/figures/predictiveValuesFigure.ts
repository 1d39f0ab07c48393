import type { PredictiveValuesRange } from "../accuracy/index.js";
import { type Audience, requireShowable } from "../privacy/index.js";
import type { Estimate, FigureSpec, Undefined } from "../results/index.js";
import { figureSpec, type Part } from "./figureSpec.js";
import { type SeriesRow, seriesLayers, shareAxis } from "./marks/seriesLayers.js";
import { columnMm } from "./theme.js";
import { grouped, percent, percentWords } from "./words.js";

const names = ["positive predictive value", "negative predictive value"] as const;

/**
 * Predictive values, with their intervals as bands, against the prevalence of another population.
 *
 * Axes are in percent; that of the prevalence is logarithmic, because what matters happens where it
 * is small.
 *
 * @param range a result of `predictiveValuesAt` with several prevalences
 * For the public (default) the counts behind sensitivity and specificity are 0 or at least 11 each;
 * where these came as estimates, `counts` has to say them.
 *
 * @param options `n`: the rows behind sensitivity and specificity; `counts`: every count behind them
 * @throws when the public would see a small count, or the counts are not known
 *
 * @example
 * predictiveValuesFigure(predictiveValuesAt({ sensitivity: 0.9, specificity: 0.8, prevalence: [0.02, 0.1] }), { n: 200 }).name // => "predictive-values"
 */
export function predictiveValuesFigure(
  range: PredictiveValuesRange,
  options: {
    readonly n: number;
    readonly condition?: string;
    readonly counts?: readonly number[];
    readonly audience?: Audience;
  },
): FigureSpec {
  const { n, condition = "the condition", audience = "public" } = options;
  const known = range.table === null ? null : Object.values(range.table);
  if (range.method !== "given") {
    requireShowable("predictiveValuesFigure", options.counts ?? known, audience);
  }
  // a logarithmic axis has no place for a prevalence of 0
  const placed = range.points.filter(({ prevalence }) => prevalence > 0);
  const rows = placed.flatMap((point) => [
    ...row(names[0], point.prevalence, point.positivePredictiveValue),
    ...row(names[1], point.prevalence, point.negativePredictiveValue),
  ]);
  const shown = [range.points[0], range.points.at(-1)].filter((point) => point !== undefined);
  const said = shown.map(
    (point) =>
      `at prevalence ${percent(point.prevalence)} positive predictive value ${percentWords(point.positivePredictiveValue)}, negative predictive value ${percentWords(point.negativePredictiveValue)}`,
  );
  return figureSpec({
    name: "predictive-values",
    title: `Predictive values at other prevalences: ${condition}`,
    caption: `Predictive values for ${condition} at other prevalences, sensitivity and specificity taken as the same (n = ${grouped(n)}). Bands: ${percent(range.level)} intervals (${range.method}).${placed.length < range.points.length ? " A prevalence of 0 has no place on the logarithmic axis." : ""}`,
    alt: `Predictive values against prevalence, n = ${grouped(n)}: ${said.join("; ")}.`,
    widthMm: columnMm.single,
    heightMm: 72,
    spec: {
      layer: seriesLayers(rows, names, {
        x: prevalenceAxis(rows.map(({ x }) => x)),
        y: shareAxis("Predictive value (%)"),
      }),
    },
  });
}

const steps = [1, 2, 5];

/** Logarithmic, with ticks at 1, 2 and 5 of each power of ten. */
function prevalenceAxis(values: readonly number[]): Part {
  const [low, high] = [Math.min(...values), Math.max(...values)];
  const from = Math.floor(Math.log10(low));
  const ticks = Array.from({ length: -from + 1 }, (_, power) =>
    steps.map((step) => Number((step * 10 ** (from + power)).toPrecision(1))),
  ).flat();
  const within = ticks.filter((tick) => tick >= low * 0.999 && tick <= high * 1.001);
  return {
    type: "quantitative",
    scale: { type: "log", ...(low < high ? { domain: [low, high] } : {}), nice: false },
    axis: {
      title: "Prevalence, logarithmic (%)",
      values: within.length < 2 ? [low, high] : within,
      labelExpr: "format(100 * datum.value, '~r')",
      labelOverlap: true,
    },
  };
}

function row(series: string, x: number, estimate: Estimate | Undefined): SeriesRow[] {
  if (estimate.kind === "undefined") return [];
  const { value, low, high } = estimate;
  return [{ series, x, y: value, low, high }];
}
