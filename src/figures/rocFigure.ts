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
import {
  areBesidePlane,
  type OperatingMark,
  operatingPointLayers,
} from "./marks/operatingPoints.js";
import { bandLayer, partialLayer, wordsOfPartial } from "./marks/rocAreas.js";
import { rocX as x, rocY as y } from "./marks/rocAxes.js";
import { colours, columnMm, dashes, sizes } from "./theme.js";
import {
  counted,
  cutOffText,
  decimalsFor,
  estimateWords,
  grouped,
  intervalsOf,
  number,
  percentWords,
  percent,
  sentence,
  within,
} from "./words.js";

/** Sensitivity and specificity with their intervals. */
interface Rates {
  readonly sensitivity: Estimate | Undefined;
  readonly specificity: Estimate | Undefined;
}

/** A cut-off to be marked on the curve. */
export interface MarkedThreshold {
  readonly cutOff: number;
  /** True where a value at the cut-off itself is negative; false by default. */
  readonly strict?: boolean;
  /** How it came about: stated before the data were seen, or chosen from them. */
  readonly origin: "pre-specified" | "chosen";
  /** What `accuracyFromCounts` says of the cut-off on the same rows: its intervals are drawn as a cross. */
  readonly accuracy?: Rates | undefined;
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

/** "95.3 %", as tables have a rate. */
const rate = (share: number): string => `${number(100 * share, 1)} %`;

/**
 * Sensitivity against the false-positive rate, with cut-offs named beside the curve in their unit:
 * those stated beforehand as squares, those chosen from the data as circles, each with a cross of its
 * intervals where `accuracy` gives them.
 *
 * Axes are in percent; a marked cut-off is in `unit`, D by default.
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
  const named = marked.map(({ cutOff, origin, strict, corrected, accuracy }, place) => ({
    origin,
    corrected,
    accuracy,
    point: shown.marked[place]!,
    label: cutOffText(cutOff, { positiveWhen, unit, strict }),
  }));
  const seen = named.flatMap(({ point, corrected, ...rest }) =>
    point && corrected !== null ? [{ ...rest, twin: corrected, ...position(point) }] : [],
  );
  const thresholds = seen.map(({ twin, ...one }) => ({
    ...one,
    twin: twin === undefined ? undefined : rateAt(twin),
  }));
  const twins = thresholds.flatMap(({ twin, label }) =>
    twin === undefined ? [] : [{ ...twin, label }],
  );
  const crosses = thresholds.filter(({ accuracy }) => accuracy !== undefined);
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
    ({ label, origin, x, y, accuracy }) =>
      `${label} (${origin}) sensitivity ${accuracy ? percentWords(accuracy.sensitivity) : rate(y)}, specificity ${accuracy ? percentWords(accuracy.specificity) : rate(1 - x)}`,
  );
  return figureSpec({
    name: "roc",
    title: `Test against ${condition}`,
    caption: [
      `Sensitivity against false-positive rate for ${within(condition)}${n}${weighted}.`,
      thresholds.length === 0 ? "" : sentence(originWords(thresholds)),
      crosses.length === 0
        ? ""
        : `Crosses: ${intervalsOf(crosses.flatMap(({ accuracy }) => [accuracy?.sensitivity, accuracy?.specificity]))} of both rates.`,
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
      `Sensitivity against false-positive rate${curve.n === null ? "" : `, n = ${grouped(curve.n)}`}${weighted}: ${[areaWords, partialWords, ...at, ...twins.map(({ label, x, y }) => `${label} corrected for who was examined: sensitivity ${rate(y)}, specificity ${rate(1 - x)}`), ...unseen.map((label) => `${label} not shown`)].filter(Boolean).join("; ")}`,
    ),
    // the plane stays as wide as it is high
    widthMm:
      thresholds.length > 0 && areBesidePlane(thresholds) ? columnMm.oneAndHalf : columnMm.single,
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
        ...operatingPointLayers(thresholds),
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

const rateAt = ({
  sensitivity,
  specificity,
}: {
  readonly sensitivity: number;
  readonly specificity: number;
}) => ({ x: 1 - specificity, y: sensitivity });

/** What the drawn marks are; nothing is said of a kind that is not drawn. */
function originWords(thresholds: readonly OperatingMark[]): string {
  const of = (kind: OperatingMark["origin"], [one, many]: readonly [string, string]) => {
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
