import { coarsen } from "../disclosure/index.js";
import type { Audience } from "../privacy/index.js";
import { type FigureSpec, InputError, shownTo, type TwoByTwo } from "../results/index.js";
import type { AccuracyAtCutOffs, CutOffCross, RocCurve } from "../thresholds/index.js";
import { figureSpec, type Part } from "./figureSpec.js";
import { curvePoints } from "./marks/curvePoints.js";
import { colours, columnMm, dashes, sizes } from "./theme.js";
import { percentLabels } from "./marks/seriesLayers.js";
import { counted, cutOffText, grouped, percentWords, sentence } from "./words.js";

export interface LimitFigureOptions {
  /** The limit that is shown at first: one of the curve's cut-offs. */
  readonly limit: number;
  /** The condition in words. */
  readonly condition?: string;
  /** "D" by default. */
  readonly unit?: string;
  /** What a row is; "eye" by default. */
  readonly row?: string;
  /** "public" by default: limits whose counts, and whose differences, are 0 or at least 11, with coarse counts. */
  readonly audience?: Audience;
}

/**
 * What a referral limit does: the curve with the point at which the limit stands, the 2x2 table there, both
 * rates with their intervals, and what that is of 1,000 like these. Shown live, a slider moves the limit
 * (`show(limitFigure(...), { live: true })`). A limit chosen by moving it is exploratory: `chooseThreshold` says
 * what the choice is worth.
 *
 * @param curve a result of `rocCurve` on counts
 * @param at `accuracyAtCutOffs` of the same curve
 * @throws InputError when both are not of the same rows, or the limit is not one that can be shown
 *
 * @example
 * const curve = rocCurve({ values: [1, 2, 3, 4], condition: [0, 1, 0, 1], audience: "journal" }, { positiveWhen: "high" });
 * limitFigure(curve, accuracyAtCutOffs(curve), { limit: 3 }).alt // => "Referral limit ≥ +3.00 D for the condition, n = 4: sensitivity 50.0 % (95 % interval 9.5 to 90.5), specificity 50.0 % (95 % interval 9.5 to 90.5)."
 */
export function limitFigure(
  curve: RocCurve,
  at: AccuracyAtCutOffs,
  options: LimitFigureOptions,
): FigureSpec {
  const { condition = "the condition", unit = "D", row = "eye", limit } = options;
  requireSameRows(curve, at);
  const audience = shownTo(options.audience, curve);
  const shown = curvePoints(curve, [{ cutOff: limit }], audience);
  const points = shown.points.map(({ sensitivity, specificity }) => ({
    x: 1 - specificity,
    y: sensitivity,
  }));
  const seen = new Set(shown.points.map(({ cutOff }) => cutOff));
  const crosses = at.points.filter(
    ({ cutOff }) => cutOff !== null && seen.has(cutOff),
  ) as readonly (CutOffCross & { readonly cutOff: number })[];
  const words = (cutOff: number) => cutOffText(cutOff, { positiveWhen: curve.positiveWhen, unit });
  const stops = crosses.map((cross, stop) => ({
    stop,
    ...wordsOf(cross, words(cross.cutOff), row, audience),
  }));
  const first = crosses.findIndex(({ cutOff }) => cutOff === limit);
  if (first < 0) {
    throw new InputError(
      `limitFigure requires a limit among the cut-offs that can be shown, got ${limit}; there are ${crosses.map(({ cutOff }) => cutOff).join(", ") || "none"}`,
    );
  }
  const { sensitivity, specificity } = crosses[first]!;
  return figureSpec({
    name: "limit",
    title: `A referral limit and what it does: ${condition}`,
    caption: [
      `${sentence(`Referral ${words(limit)} for ${condition}, ${counted(curve.n, row)}`)} Square: where the limit stands on the curve.`,
      "A limit found by moving it is exploratory, and its rates are not corrected for the choice.",
      shown.note === "" ? "" : sentence(shown.note),
      "Dotted line: no information.",
    ]
      .filter(Boolean)
      .join(" "),
    alt: `Referral limit ${words(limit)} for ${condition}, n = ${grouped(curve.n)}: sensitivity ${percentWords(sensitivity)}, specificity ${percentWords(specificity)}.`,
    widthMm: columnMm.oneAndHalf,
    heightMm: 84,
    spec: {
      params: [
        {
          name: "limit",
          value: first,
          bind: { input: "range", min: 0, max: stops.length - 1, step: 1, name: "Referral limit " },
        },
      ],
      layer: [
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
          encoding: { x: across, y: up },
        },
        {
          data: { values: points.map((point, order) => ({ ...point, order })) },
          mark: { type: "line", color: colours.first, strokeWidth: sizes.line * 1.4 },
          encoding: { x: across, y: up, order: { field: "order", type: "quantitative" } },
        },
        {
          data: { values: stops },
          transform: [{ filter: "datum.stop == limit" }],
          layer: [
            {
              mark: {
                type: "point",
                shape: "square",
                filled: true,
                size: 40,
                color: colours.second,
                opacity: 1,
              },
              encoding: { x: across, y: up },
            },
            ...lines.map(({ field, bold }, line) => ({
              mark: {
                type: "text",
                align: "left",
                baseline: "top",
                ...(bold ? { fontWeight: 600 } : {}),
              },
              encoding: {
                x: { value: { expr: "width * 0.645" } },
                y: { value: { expr: `height * ${(0.04 + 0.077 * line).toFixed(3)}` } },
                text: { field },
              },
            })),
          ],
        },
      ],
    },
  });
}

/** The lines beside the curve, by field. */
const lines = [
  { field: "title", bold: true },
  { field: "truePositive", bold: false },
  { field: "falsePositive", bold: false },
  { field: "falseNegative", bold: false },
  { field: "trueNegative", bold: false },
  { field: "sensitivity", bold: false },
  { field: "specificity", bold: false },
  { field: "per1000", bold: true },
  { field: "referred1000", bold: false },
  { field: "found1000", bold: false },
  { field: "missed1000", bold: false },
] as const;

/** The curve takes the left of the plane, its words the right. */
const across = {
  field: "x",
  type: "quantitative",
  scale: { domain: [0, 1], range: [0, { expr: "width * 0.61" }] },
  axis: {
    title: "False-positive rate, 1 − specificity (%)",
    titleAnchor: "start",
    ...percentLabels,
  },
} as const;
const up = {
  field: "y",
  type: "quantitative",
  scale: { domain: [0, 1] },
  axis: { title: "Sensitivity (%)", ...percentLabels },
} as const;

function wordsOf(
  { sensitivity, specificity, table, per1000 }: CutOffCross,
  title: string,
  row: string,
  audience: Audience,
): Part {
  const count = (value: number) => (audience === "journal" ? grouped(value) : coarsen(value).words);
  const cell = (name: keyof TwoByTwo, words: string) => `${words}: ${count(table[name])}`;
  const of1000 = (value: number, words: string) => `${words} ${Math.round(value)}`;
  return {
    title: `Refer when ${title}`,
    x: specificity.kind === "estimate" ? 1 - specificity.value : null,
    y: sensitivity.kind === "estimate" ? sensitivity.value : null,
    truePositive: cell("truePositive", "referred, with"),
    falsePositive: cell("falsePositive", "referred, without"),
    falseNegative: cell("falseNegative", "passed, with"),
    trueNegative: cell("trueNegative", "passed, without"),
    sensitivity: `sensitivity ${ratesWords(sensitivity)}`,
    specificity: `specificity ${ratesWords(specificity)}`,
    per1000: `Of 1,000 such ${row === "child" ? "children" : `${row}s`}`,
    referred1000: of1000(per1000.referred, "referred"),
    found1000: of1000(per1000.found, "referred with the condition"),
    missed1000: of1000(per1000.missed, "passed with the condition"),
  };
}

function ratesWords(rate: CutOffCross["sensitivity"]): string {
  if (rate.kind === "undefined") return "–";
  const [value, low, high] = [rate.value, rate.low, rate.high].map((share) =>
    (100 * share).toFixed(1),
  );
  return `${value} % (${low} to ${high})`;
}

function requireSameRows(curve: RocCurve, at: AccuracyAtCutOffs): void {
  const same =
    curve.n === at.n &&
    curve.points.length === at.points.length &&
    curve.points.every(({ cutOff }, place) => cutOff === at.points[place]!.cutOff);
  if (!same) {
    throw new InputError(
      `limitFigure requires accuracyAtCutOffs of the same curve, got ${at.points.length} points of ${at.n} rows beside ${curve.points.length} of ${curve.n}`,
    );
  }
}
