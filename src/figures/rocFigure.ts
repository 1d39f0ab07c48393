import type { Audience } from "../privacy/index.js";
import { type Estimate, type FigureSpec, shownTo, type Undefined } from "../results/index.js";
import type {
  OperatingPoint,
  PartialArea,
  RocCurve,
  SensitivityBand,
} from "../thresholds/index.js";
import { figureSpec, type Part } from "./figureSpec.js";
import { curvePoints } from "./marks/curvePoints.js";
import { bandLayer, partialLayer, wordsOfPartial } from "./marks/rocAreas.js";
import { rocX as x, rocY as y } from "./marks/rocAxes.js";
import { colours, columnMm, dashes, sizes } from "./theme.js";
import {
  counted,
  cutOffText,
  decimalsFor,
  estimateWords,
  grouped,
  number,
  percent,
  sentence,
  within,
} from "./words.js";

/** A cut-off to be marked on the curve. */
export interface MarkedThreshold {
  readonly cutOff: number;
  /** True where a value at the cut-off itself is negative; false by default. */
  readonly strict?: boolean;
  /** How it came about: stated before the data were seen, or chosen from them. */
  readonly origin: "pre-specified" | "chosen";
  /**
   * On a curve of the examined: the same cut-off corrected for who was examined, drawn beside the
   * mark; null where it could not be corrected, and then the cut-off is not marked at all.
   */
  readonly corrected?: { readonly sensitivity: number; readonly specificity: number } | null;
}

export interface RocFigureOptions {
  /** The condition in words, such as "myopia of 3.00 D or more". */
  readonly condition?: string;
  /** Unit of the cut-offs; "D" by default. */
  readonly unit?: string;
  /** What a row is; "eye" by default. */
  readonly row?: string;
  readonly marked?: readonly MarkedThreshold[];
  /** A result of `sensitivityAtRates`: a band at fixed false-positive rates. */
  readonly band?: SensitivityBand;
  /** A result of `partialArea` on the same rows, shaded. */
  readonly partial?: PartialArea;
  /**
   * "public" by default: points whose counts, and whose differences, are 0 or at least 11, and no
   * mark on another; "journal": every operating point that can be told apart in print.
   */
  readonly audience?: Audience;
}

/**
 * Sensitivity against the false-positive rate, with cut-offs marked in their unit: those stated
 * beforehand as squares, those chosen from the data as circles.
 *
 * Axes are proportions, 0 to 1; a marked cut-off is in `unit`, D by default.
 *
 * @param curve a result of `rocCurve`; n is null where the number is not for the reader
 * @param area a result of `areaUnderCurve` on the same rows
 *
 * @example
 * rocFigure(rocCurve({ values: [1, 2, 3, 4], condition: [0, 1, 0, 1] }, { positiveWhen: "high" })).kind // => "figure"
 */
export function rocFigure(
  curve: Omit<RocCurve, "n"> & { readonly n: number | null },
  area?: Estimate | Undefined,
  options: RocFigureOptions = {},
): FigureSpec {
  const { condition = "the condition", unit = "D", row = "eye", marked = [] } = options;
  const audience = shownTo(options.audience, curve);
  const shown = curvePoints(curve, marked, audience);
  const { positiveWhen } = curve;
  const named = marked.map(({ cutOff, origin, strict, corrected }, place) => ({
    origin,
    corrected,
    point: shown.marked[place]!,
    label: cutOffText(cutOff, { positiveWhen, unit, strict }),
  }));
  const seen = named.flatMap(({ point, corrected, ...rest }) =>
    point && corrected !== null ? [{ ...rest, twin: corrected, ...position(point) }] : [],
  );
  const thresholds = seen.map(({ twin, ...one }, at) => ({
    ...one,
    mark: seen.length === 1 ? "" : String(at + 1),
  }));
  const twins = seen.flatMap(({ twin, label }, at) =>
    twin === undefined ? [] : [{ ...rateAt(twin), label, mark: thresholds[at]!.mark }],
  );
  const without = named.filter(({ corrected }) => corrected === null).map(({ label }) => label);
  const unseen = named
    .filter(({ point, corrected }) => point === null && corrected !== null)
    .map(({ label }) => label);
  const rows = shown.points.map(position);
  const { partial } = options;
  const band = options.band && bandBeside(options.band, rows, audience);
  const n = curve.n === null ? "" : `, ${counted(curve.n, row)}`;
  const weighted = curve.weighted ? ", weighted" : "";
  const areaWords = area === undefined ? "" : `area under the curve ${estimateWords(area)}`;
  const partialWords = partial === undefined ? "" : wordsOfPartial(partial);
  const at = thresholds.map(
    ({ label, origin, x, y }) =>
      `${label} (${origin}) sensitivity ${number(y, 3)}, specificity ${number(1 - x, 3)}`,
  );
  return figureSpec({
    name: "roc",
    title: `Test against ${condition}`,
    caption: [
      `Sensitivity against false-positive rate for ${within(condition)}${n}${weighted}.`,
      thresholds.length === 0 ? "" : sentence(originWords(thresholds)),
      twins.length === 0
        ? ""
        : "Open diamond: the same cut-off corrected for who was examined; the curve is of the examined.",
      without.length === 0
        ? ""
        : `Not marked, as it could not be corrected for who was examined: ${without.join(", ")}.`,
      band === undefined
        ? ""
        : `Band: ${percent(band.level)} limits of sensitivity at fixed false-positive rates (${band.method}).`,
      partial === undefined ? "" : sentence(`Shaded: ${partialWords}`),
      shown.note === "" ? "" : sentence(shown.note),
      unseen.length === 0 ? "" : `For the same reason not marked: ${unseen.join(", ")}.`,
      "Dotted line: no information.",
    ]
      .filter(Boolean)
      .join(" "),
    alt: sentence(
      `Sensitivity against false-positive rate${curve.n === null ? "" : `, n = ${grouped(curve.n)}`}${weighted}: ${[areaWords, partialWords, ...at, ...twins.map(({ label, x, y }) => `${label} corrected for who was examined: sensitivity ${number(y, 3)}, specificity ${number(1 - x, 3)}`), ...unseen.map((label) => `${label} not shown`)].filter(Boolean).join("; ")}`,
    ),
    widthMm: columnMm.single,
    heightMm: 84,
    spec: {
      layer: [
        ...(partial === undefined ? [] : [partialLayer(rows, partial)]),
        ...(band === undefined ? [] : [bandLayer(band)]),
        {
          data: {
            values: [
              { x: 0, y: 0 },
              { x: 1, y: 1 },
            ],
          },
          mark: {
            type: "line",
            color: colours.quiet,
            strokeWidth: sizes.thin,
            strokeDash: dashes.dotted,
          },
          encoding: { x, y },
        },
        {
          data: { values: rows },
          mark: { type: "line", color: colours.first, strokeWidth: sizes.line * 1.4 },
          encoding: { x, y, order: { field: "order", type: "quantitative" } },
        },
        ...thresholdLayers(thresholds),
        ...twinLayers(twins),
        ...(area?.kind === "estimate" ? [areaLabel(area)] : []),
      ],
    },
  });
}

/** For the public the band ends where the curve is no longer known and only its end is drawn. */
function bandBeside(
  band: SensitivityBand,
  rows: readonly { readonly x: number }[],
  audience: Audience,
): SensitivityBand {
  if (audience === "journal") return band;
  const last = rows.at(-2)?.x ?? 0;
  return {
    ...band,
    points: band.points.filter(({ falsePositiveRate }) => falsePositiveRate <= last),
  };
}

function position({ sensitivity, specificity }: OperatingPoint, order = 0) {
  return { x: 1 - specificity, y: sensitivity, order };
}

/** Marks on the curve, numbered where there are several, and what they mean in the corner. */
function thresholdLayers(thresholds: readonly ShownThreshold[]): readonly Part[] {
  if (thresholds.length === 0) return [];
  const key = thresholds.map((threshold, at) => ({
    ...threshold,
    x: 0.4,
    y: 0.2 + 0.075 * (thresholds.length - 1 - at),
    text: `${threshold.label}, ${threshold.origin}`,
  }));
  const shape = {
    field: "origin",
    type: "nominal",
    scale: { domain: ["pre-specified", "chosen"], range: ["square", "circle"] },
    legend: null,
  };
  const text = (values: readonly object[], field: string, mark: Part): Part => ({
    data: { values },
    mark: { type: "text", baseline: "middle", ...mark },
    encoding: { x, y, text: { field } },
  });
  return [
    {
      data: { values: [...thresholds, ...key] },
      mark: { type: "point", filled: true, size: 64, color: colours.second, opacity: 1 },
      encoding: { x, y, shape },
    },
    text([...thresholds, ...key], "mark", { align: "center", color: "#ffffff", fontWeight: 600 }),
    text(key, "text", { align: "left", dx: 8, fontSize: sizes.text }),
  ];
}

const rateAt = ({
  sensitivity,
  specificity,
}: {
  readonly sensitivity: number;
  readonly specificity: number;
}) => ({ x: 1 - specificity, y: sensitivity });

/** Corrected twins of the marks, with the marks' numbers. */
function twinLayers(
  twins: readonly { readonly x: number; readonly y: number; readonly mark: string }[],
): readonly Part[] {
  if (twins.length === 0) return [];
  return [
    {
      data: { values: twins },
      mark: {
        type: "point",
        shape: "diamond",
        filled: false,
        size: 90,
        strokeWidth: sizes.line * 1.4,
        color: colours.second,
        opacity: 1,
      },
      encoding: { x, y },
    },
    {
      data: { values: twins.filter(({ mark }) => mark !== "") },
      mark: { type: "text", baseline: "middle", align: "left", dx: 7, fontSize: sizes.text },
      encoding: { x, y, text: { field: "mark" } },
    },
  ];
}

interface ShownThreshold {
  readonly x: number;
  readonly y: number;
  readonly origin: MarkedThreshold["origin"];
  readonly mark: string;
  readonly label: string;
}

/** What the drawn marks are; nothing is said of a kind that is not drawn. */
function originWords(thresholds: readonly ShownThreshold[]): string {
  const of = (kind: ShownThreshold["origin"], [one, many]: readonly [string, string]) => {
    const n = thresholds.filter(({ origin }) => origin === kind).length;
    return n === 0 ? "" : n === 1 ? one : many;
  };
  return [
    of("pre-specified", [
      "square: the cut-off stated beforehand",
      "squares: cut-offs stated beforehand",
    ]),
    of("chosen", [
      "circle: the cut-off chosen from these data",
      "circles: cut-offs chosen from these data",
    ]),
  ]
    .filter(Boolean)
    .join("; ");
}

function areaLabel({ value, low, high, level }: Estimate): Part {
  const [area, from, to] = [value, low, high].map((one) => number(one, decimalsFor(high - low)));
  return {
    data: { values: [{ x: 0.4, y: 0.08 }] },
    mark: {
      type: "text",
      align: "left",
      baseline: "middle",
      dx: -4,
      lineHeight: 9,
      fontSize: sizes.text,
    },
    encoding: {
      x,
      y,
      text: { value: [`Area ${area}`, `(${percent(level)} interval ${from} to ${to})`] },
    },
  };
}
