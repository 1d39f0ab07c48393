import type { Estimate, FigureSpec, Undefined } from "../results/index.js";
import type { OperatingPoint, RocCurve } from "../thresholds/rocCurve.js";
import { coarsenedPoints, pointAt } from "./coarsenedPoints.js";
import { figureSpec, type Part } from "./figureSpec.js";
import { type Audience, smallestCell } from "./points.js";
import { colours, columnMm, dashes, sizes } from "./theme.js";
import { counted, estimateWords, number, quantity, sentence } from "./words.js";

/** A cut-off to be marked on the curve. */
export interface MarkedThreshold {
  readonly cutOff: number;
  /** How it came about: stated before the data were seen, or chosen from them. */
  readonly origin: "pre-specified" | "chosen";
}

/** Intervals of sensitivity at stated false-positive rates. */
export interface RocBand {
  readonly points: readonly {
    readonly falsePositiveRate: number;
    readonly low: number;
    readonly high: number;
  }[];
  /** What kind of band it is, in words. */
  readonly name: string;
}

export interface RocFigureOptions {
  /** The condition in words, such as "myopia of 3.00 D or more". */
  readonly condition?: string;
  /** Unit of the cut-offs; "D" by default. */
  readonly unit?: string;
  /** What a row is; "eye" by default. */
  readonly row?: string;
  readonly marked?: readonly MarkedThreshold[];
  readonly band?: RocBand;
  /** Shades the area over a range of one axis. */
  readonly partialArea?: {
    readonly area: Estimate | Undefined;
    readonly falsePositiveRate: readonly [number, number];
  };
  /**
   * "public" by default: neighbouring points of the curve are at least 11 rows apart; "journal":
   * every operating point.
   */
  readonly audience?: Audience;
}

/**
 * Sensitivity against the false-positive rate, with cut-offs marked in their unit: those stated
 * beforehand as squares, those chosen from the data as circles.
 *
 * @param curve a result of `rocCurve`
 * @param area a result of `areaUnderCurve` on the same rows
 *
 * @example
 * rocFigure(rocCurve({ values: [1, 2, 3, 4], condition: [0, 1, 0, 1] }, { positiveWhen: "high" })).kind // => "figure"
 */
export function rocFigure(
  curve: RocCurve,
  area?: Estimate | Undefined,
  options: RocFigureOptions = {},
): FigureSpec {
  const { condition = "the condition", unit = "D", row = "eye", marked = [], band } = options;
  const thresholds = marked.map(({ cutOff, origin }, at) => ({
    ...position(pointAt(curve, cutOff)),
    origin,
    mark: marked.length === 1 ? "" : String(at + 1),
    label: `${curve.positiveWhen === "high" ? "≥" : "≤"} ${quantity(cutOff, unit)}`,
  }));
  const drawn =
    options.audience === "journal"
      ? curve.points
      : coarsenedPoints(
          curve,
          marked.map(({ cutOff }) => cutOff),
        );
  const rows = drawn.map(position);
  const partial = options.partialArea;
  const n = counted(curve.n, row);
  const weighted = curve.weighted ? ", weighted" : "";
  const areaWords = area === undefined ? "" : `area under the curve ${estimateWords(area)}`;
  const partialWords =
    partial === undefined
      ? ""
      : `area over false-positive rates ${partial.falsePositiveRate.map((rate) => number(rate)).join(" to ")}: ${estimateWords(partial.area)}`;
  const at = thresholds.map(
    ({ label, origin, x, y }) =>
      `${label} (${origin}) sensitivity ${number(y, 3)}, specificity ${number(1 - x, 3)}`,
  );
  return figureSpec({
    name: "roc",
    title: `Test against ${condition}`,
    caption: [
      `Sensitivity against false-positive rate for ${condition}, ${n}${weighted}.`,
      thresholds.length === 0
        ? ""
        : "Squares: cut-offs stated beforehand; circles: chosen from these data.",
      band === undefined ? "" : sentence(`Band: ${band.name}`),
      partial === undefined ? "" : sentence(`Shaded: ${partialWords}`),
      options.audience === "journal"
        ? ""
        : `Points of the curve are at least ${smallestCell} ${row}s apart.`,
      "Dotted line: no information.",
    ]
      .filter(Boolean)
      .join(" "),
    alt: sentence(
      `Sensitivity against false-positive rate, n = ${curve.n}${weighted}: ${[areaWords, partialWords, ...at].filter(Boolean).join("; ")}`,
    ),
    widthMm: columnMm.single,
    heightMm: 84,
    spec: {
      layer: [
        ...(band === undefined ? [] : [bandLayer(band)]),
        ...(partial === undefined ? [] : [partialLayer(rows, partial.falsePositiveRate)]),
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
        ...(area?.kind === "estimate" ? [areaLabel(area)] : []),
      ],
    },
  });
}

const axis = { values: [0, 0.2, 0.4, 0.6, 0.8, 1], format: ".1f" };
const scale = { domain: [0, 1], nice: false };
const x = {
  field: "x",
  type: "quantitative",
  scale,
  axis: { ...axis, title: "False-positive rate, 1 − specificity (proportion)" },
};
const y = {
  field: "y",
  type: "quantitative",
  scale,
  axis: { ...axis, title: "Sensitivity (proportion)" },
};

function position({ sensitivity, specificity }: OperatingPoint, order = 0) {
  return { x: 1 - specificity, y: sensitivity, order };
}

function bandLayer({ points }: RocBand): Part {
  return {
    data: { values: points },
    mark: { type: "area", color: colours.firstBand, opacity: 0.8 },
    encoding: {
      x: { ...x, field: "falsePositiveRate" },
      y: { ...y, field: "low" },
      y2: { field: "high" },
    },
  };
}

function partialLayer(
  rows: readonly { readonly x: number; readonly y: number }[],
  [low, high]: readonly [number, number],
): Part {
  const inside = rows.filter((row) => row.x > low && row.x < high);
  const edges = [low, high].map((rate) => ({ x: rate, y: heightAt(rows, rate) }));
  return {
    data: { values: [edges[0], ...inside, edges[1]] },
    mark: { type: "area", color: colours.secondBand, opacity: 0.9 },
    encoding: { x, y },
  };
}

/** Where the drawn line stands over a false-positive rate. */
function heightAt(
  rows: readonly { readonly x: number; readonly y: number }[],
  rate: number,
): number {
  const after = rows.findIndex((row) => row.x > rate);
  if (after <= 0) return rows.at(after)!.y;
  const [left, right] = [rows[after - 1]!, rows[after]!];
  return left.y + ((right.y - left.y) * (rate - left.x)) / (right.x - left.x);
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

interface ShownThreshold {
  readonly x: number;
  readonly y: number;
  readonly origin: MarkedThreshold["origin"];
  readonly mark: string;
  readonly label: string;
}

function areaLabel({ value, low, high }: Estimate): Part {
  return {
    data: { values: [{ x: 0.4, y: 0.08 }] },
    mark: { type: "text", align: "left", baseline: "middle", dx: -4, fontSize: sizes.text },
    encoding: {
      x,
      y,
      text: { value: `Area ${number(value, 3)} (${number(low, 3)} to ${number(high, 3)})` },
    },
  };
}
