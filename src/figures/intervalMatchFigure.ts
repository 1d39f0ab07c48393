import type { IntervalMatch, TriedInterval } from "../printed/index.js";
import { printedNumber, wordsOf } from "../printed/index.js";
import { type FigureSpec, methodName } from "../results/index.js";
import { figureSpec } from "./figureSpec.js";
import { numericAxis, referenceLine } from "./marks/seriesLayers.js";
import { colours, columnMm, dashes, sizes } from "./theme.js";
import { grouped, number, percent, sentence } from "./words.js";

/**
 * A printed interval and what every method makes of the same table: one line a method, those that
 * print the same digits solid and named so, the others dashed; the printed limits as two lines.
 * Printed numbers are public already, so there is one form for every audience.
 *
 * @param match of `matchIntervalMethod`
 * @param options `level`: the level drawn, that of the first match by default, else 0.95; `name` of
 *   the figure, for files
 *
 * @example
 * intervalMatchFigure(matchIntervalMethod({ table: { truePositive: 57, falsePositive: 58, falseNegative: 0, trueNegative: 0 }, measure: "positivePredictiveValue", printed: { low: "41", high: "60" } })).name // => "interval-match"
 */
export function intervalMatchFigure(
  match: IntervalMatch,
  options: { readonly level?: number; readonly name?: string } = {},
): FigureSpec {
  const { name = "interval-match", level = match.matches[0]?.level ?? 0.95 } = options;
  const { low, high } = match.printed;
  const scale = match.unit === "percent" ? 100 : 1;
  const ends = [low, high].map((text) => printedNumber("intervalMatchFigure", "limit", text));
  const decimals = Math.max(...ends.map((end) => end.decimals));
  const all = [...match.matches, ...match.truncated, ...match.nearest].filter(
    (tried) => tried.level === level,
  );
  const rows = all.map((tried, order) => {
    const method = methodName(tried.method);
    const limits = `${number(tried.low * scale, decimals)} to ${number(tried.high * scale, decimals)}`;
    return {
      method,
      order,
      low: tried.low * scale,
      high: tried.high * scale,
      fit: tried.fit === "rounded" ? "same digits" : "other digits",
      text: `${limits}${fitWords(tried)}`,
    };
  });
  const measure = wordsOf(match.measure);
  const unit = match.unit === "percent" ? " %" : "";
  const value =
    typeof match.value === "number"
      ? `${number(match.value * scale, decimals)}${unit}`
      : "not defined";
  const x = numericAxis(`${sentence(measure).slice(0, -1)}${unit === "" ? "" : " (%)"}`);
  const printed = `${minus(low)} to ${minus(high)}${unit}`;
  const y = {
    field: "method",
    type: "nominal",
    sort: { field: "order" },
    axis: { title: null, domain: false, ticks: false, labelPadding: 6 },
  };
  const said = rows.map(({ method, text }) => `${method} ${text}`).join("; ");
  return figureSpec({
    name,
    title: `Which method prints ${printed}`,
    caption: `${sentence(measure).slice(0, -1)} ${value}, n = ${grouped(match.n)}: its ${percent(level)} interval by each method. Dotted vertical lines: the printed limits, ${printed}. Solid bars: methods that round to the same digits; broken bars: the others.`,
    alt: `Printed interval ${printed} of the ${measure}, ${value}, n = ${grouped(match.n)}, and the ${percent(level)} intervals of ${rows.length} methods: ${said}.`,
    widthMm: columnMm.oneAndHalf,
    heightMm: 18 + 7 * rows.length,
    spec: {
      layer: [
        ...ends.map(({ value }) => referenceLine("x", value, x)),
        {
          data: { values: rows },
          mark: { type: "rule", color: colours.first, strokeWidth: 2 * sizes.line },
          encoding: {
            y,
            x: { field: "low", ...x },
            x2: { field: "high" },
            strokeDash: {
              field: "fit",
              type: "nominal",
              scale: { domain: ["same digits", "other digits"], range: [[1, 0], dashes.short] },
              legend: null,
            },
          },
        },
        {
          data: { values: rows },
          mark: { type: "text", align: "left", baseline: "middle", dx: 6 },
          encoding: { y, x: { value: "width" }, text: { field: "text" } },
        },
      ],
    },
  });
}

function fitWords({ fit }: TriedInterval): string {
  if (fit === "rounded") return ", as printed";
  return fit === "truncated" ? ", as printed if cut off" : "";
}

const minus = (text: string) => text.replace(/^[-\u2013]/, "−").replace(/\s*%$/, "");
