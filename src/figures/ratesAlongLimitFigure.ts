import type { Audience } from "../privacy/index.js";
import { type FigureSpec, shownTo } from "../results/index.js";
import { rulePoint } from "../rulespace/index.js";
import type { OperatingPoint, RocCurve } from "../thresholds/index.js";
import { figureSpec } from "./figureSpec.js";
import { curvePoints } from "./marks/curvePoints.js";
import { numericAxis, referenceLine, seriesLayers, shareAxis } from "./marks/seriesLayers.js";
import { columnMm } from "./theme.js";
import { counted, cutOffText, grouped, sentence, shareText } from "./words.js";

const names = ["sensitivity", "specificity", "referral rate"] as const;

/**
 * Sensitivity, specificity and referral rate along the referral limit.
 *
 * `unit` names the unit on the axis, D by default.
 *
 * @param curve a result of `rocCurve`
 *
 * @example
 * ratesAlongLimitFigure(rocCurve({ values: [1, 2, 3, 4], condition: [0, 1, 0, 1] }, { positiveWhen: "high" })).kind // => "figure"
 */
export function ratesAlongLimitFigure(
  curve: RocCurve,
  options: {
    readonly condition?: string;
    /** What the limit is set on, such as "spherical equivalent". */
    readonly quantity?: string;
    readonly unit?: string;
    readonly row?: string;
    /** A limit stated beforehand, drawn as a line. */
    readonly limit?: number;
    /** "public" by default: points whose counts, and whose differences, are 0 or at least 11. */
    readonly audience?: Audience;
  } = {},
): FigureSpec {
  const { condition = "the condition", unit = "D", row = "eye", limit } = options;
  const audience = shownTo(options.audience, curve);
  const what = options.quantity ?? "value";
  const shown = curvePoints(curve, limit === undefined ? [] : [{ cutOff: limit }], audience);
  const rows = shown.points.flatMap((point) => {
    // the last cut-off is the value of the least suspicious row alone
    const hidden = audience === "public" && point === curve.points.at(-1);
    if (point.cutOff === null || hidden) return [];
    const rates = [point.sensitivity, point.specificity, referralRate(point)];
    return names.map((series, at) => ({ series, x: point.cutOff!, y: rates[at]! }));
  });
  const sign = curve.positiveWhen === "high" ? "≥" : "≤";
  const { positiveWhen } = curve;
  const stated = limit === undefined ? "" : cutOffText(limit, { positiveWhen, unit });
  const at = shown.marked[0];
  const said =
    at === undefined
      ? ""
      : at === null
        ? ` Rates at ${stated} are not shown.`
        : ` At ${stated}: sensitivity ${shareText(at.sensitivity)}, specificity ${shareText(at.specificity)}, referral rate ${shareText(referralRate(at))}.`;
  const x = numericAxis(`Refer when ${what} is ${sign} this limit (${unit})`);
  return figureSpec({
    name: "rates-along-limit",
    title: `Rates along the referral limit: ${condition}`,
    caption: `Sensitivity and specificity for ${condition}, and the share referred, along the referral limit, ${counted(curve.n, row)}.${limit === undefined ? "" : " Dotted line: limit stated beforehand."}${shown.note === "" ? "" : ` ${sentence(shown.note)}`}`,
    alt: sentence(
      `Rates along the referral limit for ${condition}, n = ${grouped(curve.n)}.${said}`,
    ),
    widthMm: columnMm.single,
    heightMm: 72,
    isEmpty: rows.length === 0,
    spec: {
      layer: [
        ...(limit === undefined ? [] : [referenceLine("x", limit, x)]),
        ...seriesLayers(rows, names, { x, y: shareAxis("Rate (%)") }),
      ],
    },
  });
}

function referralRate(point: OperatingPoint): number {
  return rulePoint({}, point).referralRate;
}
