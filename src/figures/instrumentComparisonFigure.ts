import type { FigureSpec } from "../results/index.js";
import type { InstrumentComparison } from "../thresholds/index.js";
import { figureSpec } from "./figureSpec.js";
import { intervalMarks, rangeBar } from "./marks/intervalMarks.js";
import { numericAxis, referenceLine } from "./marks/seriesLayers.js";
import { colours, columnMm } from "./theme.js";
import { grouped, number, sentence } from "./words.js";

/**
 * Several instruments on the same eyes: for each against the reference, then for each pair, the bias
 * (square) with its simultaneous interval (line) and the limits of agreement (bar), in dioptres. Limits are bias ±
 * SDs, so that no mark is one child's difference.
 *
 * @param comparison from `compareInstruments`
 *
 * @example
 * instrumentComparisonFigure(compareInstruments({ instruments: { a: [1, 2, 3, 4, 6], b: [1, 2, 4, 4, 5] }, reference: [1, 2, 3, 4, 5] })).name // => "instrument-comparison"
 */
export function instrumentComparisonFigure(
  comparison: Pick<InstrumentComparison, "instruments" | "pairs" | "n" | "subjects" | "level">,
  options: { readonly unit?: string; readonly quantity?: string } = {},
): FigureSpec {
  const { unit = "D", quantity = "M" } = options;
  const { instruments, pairs, n, subjects, level } = comparison;
  const all = [
    ...instruments.map(({ name, agreement }) => ({ label: `${name} − reference`, agreement })),
    ...pairs.map(({ first, second, agreement }) => ({ label: `${first} − ${second}`, agreement })),
  ];
  const rows = all.map(({ label, agreement: { bias, lower, upper } }, order) => {
    const ends = [lower.value, upper.value];
    const known = bias.kind === "estimate" && ends.every((end) => end !== undefined);
    return {
      label,
      order,
      ...(known
        ? {
            bias: bias.value,
            low: bias.low,
            high: bias.high,
            lower: ends[0],
            upper: ends[1],
            text: `${number(bias.value)} (${number(ends[0]!)} to ${number(ends[1]!)})`,
          }
        : { text: "not estimated" }),
    };
  });
  const drawn = rows.filter((row) => "bias" in row);
  const y = {
    field: "label",
    type: "nominal",
    sort: { field: "order" },
    axis: { title: null, domain: false, ticks: false, labelPadding: 6 },
  };
  const x = numericAxis(`Difference in ${quantity} (${unit})`);
  return figureSpec({
    name: "instrument-comparison",
    title: "Instruments on the same eyes",
    caption: `Bias (square) with its interval (line; all hold together at the level ${number(level)}) and limits of agreement (bar, bias ± SDs), ${grouped(n)} eyes of ${grouped(subjects)} children. Beside: bias (lower to upper limit). Dotted line: no difference.`,
    alt: sentence(
      `Bias and limits of agreement of ${instruments.length} instruments, n = ${grouped(n)} eyes of ${grouped(subjects)} children: ${rows.map(({ label, text }) => `${label} ${text}`).join("; ")}`,
    ),
    widthMm: columnMm.oneAndHalf,
    heightMm: 22 + 8 * rows.length,
    spec: {
      layer: [
        referenceLine("x", 0, x),
        rangeBar(drawn, { x, y, low: "lower", high: "upper" }),
        ...intervalMarks(drawn, { x, y }),
        {
          data: { values: drawn },
          mark: {
            type: "point",
            shape: "square",
            filled: true,
            size: 13,
            color: colours.second,
            opacity: 1,
          },
          encoding: { y, x: { field: "bias", ...x } },
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
