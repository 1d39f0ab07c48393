import { type Audience, type CountedRow, shownRows } from "../privacy/index.js";
import type { Estimate, FigureSpec } from "../results/index.js";
import { figureSpec, type Part } from "./figureSpec.js";
import { intervalMarks } from "./marks/intervalMarks.js";
import { leftOutWords } from "./marks/leftOutWords.js";
import { numericAxis, percentLabels, referenceLine, roomForMarks } from "./marks/seriesLayers.js";
import { colours, columnMm } from "./theme.js";
import {
  estimateWords,
  grouped,
  intervalsOf,
  number,
  percentWords,
  sentence,
  shareText,
} from "./words.js";

/**
 * One estimate with its interval for each group or site, numbers beside them: sensitivity by site,
 * bias by age band, and the like. What could not be estimated keeps its line and says so; so does,
 * for the public (default), a row with a count below 11 or one that would give it back.
 *
 * @param rows in the order in which they are to stand
 * @param options `quantity` with its `unit` ("" for a proportion, which is drawn in percent); `reference`: a value to compare
 *   with, drawn as a dotted line; `name` of the figure, for files
 *
 * @example
 * forestFigure([{ label: "site A", n: 120, counts: [50, 11], estimate: proportionInterval({ successes: 50, trials: 61 }) }], { quantity: "sensitivity", unit: "" }).name // => "forest"
 */
export function forestFigure(
  rows: readonly CountedRow[],
  options: {
    readonly quantity: string;
    readonly unit: string;
    readonly grouping?: string;
    readonly reference?: number;
    /** What the reference is, for the caption; its number by default. */
    readonly referenceWords?: string;
    readonly name?: string;
    /** All together; the sum over rows by default, right where no child is in two of them. */
    readonly n?: number;
    readonly audience?: Audience;
  },
): FigureSpec {
  const { unit, grouping = "group", reference, name = "forest", audience = "public" } = options;
  const intervals = intervalsOf(rows.map(({ estimate }) => estimate));
  const maySee = shownRows("forestFigure", rows, unit === "", audience);
  const named = rows.map((row) => ({ ...row, label: row.label.replace(/(^|\s)-(?=\d)/g, "$1−") }));
  const shown = named.map(({ label, n, estimate, summary = false }, order) => ({
    label: maySee[order] ? `${label} (n = ${grouped(n)})` : label,
    order,
    shape: summary ? "all" : "one",
    ...(maySee[order] && estimate.kind === "estimate"
      ? {
          value: estimate.value,
          low: estimate.low,
          high: estimate.high,
          text: textOf(estimate, unit),
        }
      : { text: maySee[order] ? "not estimated" : "not shown" }),
  }));
  const drawn = shown.filter((row) => "value" in row);
  const y = {
    field: "label",
    type: "nominal",
    sort: { field: "order" },
    axis: { title: null, domain: false, ticks: false, labelPadding: 6 },
  };
  const isShare = unit === "";
  const x = numericAxis(`${sentence(options.quantity).slice(0, -1)} (${isShare ? "%" : unit})`, {
    scale: roomForMarks,
    ...(isShare && { axis: percentLabels }),
  });
  const hidden = maySee.filter((may) => !may).length;
  const leftOut = leftOutWords(hidden, rows.length, "rows");
  const said = named.map(({ label, n, estimate }, at) =>
    maySee[at]
      ? `${label} (n = ${grouped(n)}) ${isShare ? percentWords(estimate) : estimateWords(estimate, unit)}`
      : `${label} not shown`,
  );
  const total =
    options.n ?? rows.filter(({ summary }) => !summary).reduce((sum, { n }) => sum + n, 0);
  return figureSpec({
    name,
    title: `${sentence(options.quantity).slice(0, -1)} by ${grouping}`,
    caption: `${sentence(options.quantity).slice(0, -1)} by ${grouping} with ${intervals}, n = ${grouped(total)}.${rows.some(({ summary }) => summary) ? " Diamond: all together." : ""}${reference === undefined ? "" : ` Dotted line: ${(options.referenceWords ?? isShare) ? shareText(reference) : `${number(reference)} ${unit}`}.`}${leftOut === "" ? "" : ` ${leftOut}`}`,
    alt: `${sentence(options.quantity).slice(0, -1)} by ${grouping}, n = ${grouped(total)}: ${said.join("; ")}.`,
    widthMm: columnMm.oneAndHalf,
    heightMm: 22 + 7 * rows.length,
    spec: {
      layer: [
        ...(reference === undefined ? [] : [referenceLine("x", reference, x)]),
        ...intervalMarks(drawn, { x, y }),
        {
          data: { values: drawn },
          mark: { type: "point", filled: true, size: 24, color: colours.first, opacity: 1 },
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
        header(sentence(grouping).slice(0, -1), { align: "right", dx: -6 }, 0),
        header(
          `${isShare ? "%" : "Value"} (${intervals.slice(0, -1)})`,
          { align: "left", dx: 6 },
          "width",
        ),
        {
          data: { values: shown },
          mark: { type: "text", align: "left", baseline: "middle", dx: 6 },
          encoding: { y, x: { value: "width" }, text: { field: "text" } },
        },
      ],
    },
  });
}

/** "88.9 (82.0 to 93.4)", a share in percent. */
function textOf({ value, low, high }: Estimate, unit: string): string {
  const [point, from, to] = [value, low, high].map((one) =>
    unit === "" ? number(100 * one, 1) : number(one),
  );
  return `${point} (${from} to ${to})`;
}

/** What stands in the labels to the left, or in the numbers to the right. */
function header(text: string, side: Part, x: 0 | "width"): Part {
  return {
    data: { values: [{}] },
    mark: { type: "text", baseline: "bottom", fontWeight: 600, ...side },
    encoding: { x: { value: x }, y: { value: -2 }, text: { value: text } },
  };
}
