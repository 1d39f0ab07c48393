import type { FigureSpec } from "../results/index.js";
import type { OperatingPoint, RocCurve } from "../thresholds/rocCurve.js";
import { coarsenedPoints, pointAt } from "./coarsenedPoints.js";
import { figureSpec } from "./figureSpec.js";
import { type Audience, smallestCell } from "./points.js";
import { numericAxis, referenceLine, seriesLayers, shareAxis } from "./seriesLayers.js";
import { columnMm } from "./theme.js";
import { counted, number, quantity, sentence } from "./words.js";

const names = ["sensitivity", "specificity", "referral rate"] as const;

/**
 * Sensitivity, specificity and referral rate along the referral limit.
 *
 * @param curve a result of `rocCurve`
 *
 * @example
 * ratesAlongLimit(rocCurve({ values: [1, 2, 3, 4], condition: [0, 1, 0, 1] }, { positiveWhen: "high" })).kind // => "figure"
 */
export function ratesAlongLimit(
  curve: RocCurve,
  options: {
    readonly condition?: string;
    /** What the limit is set on, such as "spherical equivalent". */
    readonly quantity?: string;
    readonly unit?: string;
    readonly row?: string;
    /** A limit stated beforehand, drawn as a line. */
    readonly limit?: number;
    /** "public" by default: neighbouring points are at least 11 rows apart. */
    readonly audience?: Audience;
  } = {},
): FigureSpec {
  const { condition = "the condition", unit = "D", row = "eye", limit } = options;
  const what = options.quantity ?? "value";
  const marked = limit === undefined ? [] : [limit];
  const drawn = options.audience === "journal" ? curve.points : coarsenedPoints(curve, marked);
  const rows = drawn.flatMap((point) => {
    // the last cut-off is the value of the least suspicious row alone
    const hidden = options.audience !== "journal" && point === curve.points.at(-1);
    if (point.cutOff === null || hidden) return [];
    const rates = [point.sensitivity, point.specificity, referralRate(point)];
    return names.map((series, at) => ({ series, x: point.cutOff!, y: rates[at]! }));
  });
  const sign = curve.positiveWhen === "high" ? "≥" : "≤";
  const at = limit === undefined ? undefined : pointAt(curve, limit);
  const said =
    at === undefined
      ? ""
      : ` At ${sign} ${quantity(limit!, unit)}: sensitivity ${number(at.sensitivity, 3)}, specificity ${number(at.specificity, 3)}, referral rate ${number(referralRate(at), 3)}.`;
  const x = numericAxis(`Refer when ${what} is ${sign} this limit (${unit})`);
  return figureSpec({
    name: "rates-along-limit",
    title: `Rates along the referral limit: ${condition}`,
    caption: `Sensitivity and specificity for ${condition}, and the share referred, along the referral limit, ${counted(curve.n, row)}.${limit === undefined ? "" : " Dotted line: limit stated beforehand."}${options.audience === "journal" ? "" : ` Points are at least ${smallestCell} ${row}s apart.`}`,
    alt: sentence(`Rates along the referral limit for ${condition}, n = ${curve.n}.${said}`),
    widthMm: columnMm.single,
    heightMm: 72,
    spec: {
      layer: [
        ...(limit === undefined ? [] : [referenceLine("x", limit, x)]),
        ...seriesLayers(rows, names, { x, y: shareAxis("Rate (proportion)") }),
      ],
    },
  });
}

function referralRate(point: OperatingPoint): number {
  const { truePositive, falsePositive, falseNegative, trueNegative } = point;
  return (
    (truePositive + falsePositive) / (truePositive + falsePositive + falseNegative + trueNegative)
  );
}
