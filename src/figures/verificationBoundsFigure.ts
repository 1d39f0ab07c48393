import type { VerificationBounds } from "../accuracy/index.js";
import { type Audience, requireShowable } from "../privacy/index.js";
import type { Estimate, FigureSpec, Undefined } from "../results/index.js";
import { figureSpec } from "./figureSpec.js";
import { intervalMarks, rangeBar } from "./marks/intervalMarks.js";
import { shareAxis } from "./marks/seriesLayers.js";
import { colours, columnMm } from "./theme.js";
import { counted, grouped, intervalsOf, percentWords, shareText } from "./words.js";

const measures = [
  ["sensitivity", "Sensitivity"],
  ["specificity", "Specificity"],
  ["positivePredictiveValue", "Positive predictive value"],
  ["negativePredictiveValue", "Negative predictive value"],
] as const;

type Measure = (typeof measures)[number][0];

/**
 * How far each rate could be moved by the children who were not examined (thick bars: from the least
 * to the greatest filling), with the estimates among the examined or corrected ones on top.
 *
 * For the public (default) every count of the examined and of the unexamined is 0 or at least 11.
 *
 * The axis is in percent.
 *
 * @param bounds a result of `verificationBounds`
 * @param options `n`: all children screened; `estimates` with their `label`
 * @throws when the public would see a small count
 *
 * @example
 * const bounds = verificationBounds({ verified: { truePositive: 231, falsePositive: 32, falseNegative: 27, trueNegative: 54 }, unverified: { testPositive: 166, testNegative: 140 } });
 * verificationBoundsFigure(bounds, { n: 650 }).name // => "verification-bounds"
 */
export function verificationBoundsFigure(
  bounds: VerificationBounds,
  options: {
    readonly n: number;
    readonly estimates?: { readonly [name in Measure]?: Estimate | Undefined };
    /** What the estimates are: "among the examined" by default. */
    readonly label?: string;
    readonly audience?: Audience;
  },
): FigureSpec {
  const { verified, unverified } = bounds.counts;
  const counts = [...Object.values(verified), ...Object.values(unverified)];
  requireShowable("verificationBoundsFigure", counts, options.audience ?? "public");
  const { n, estimates = {}, label = "among the examined" } = options;
  const bars = measures.flatMap(([name, words]) => {
    const range = bounds[name];
    return range.kind === "bounds" ? [{ measure: words, low: range.low, high: range.high }] : [];
  });
  const marks = measures.flatMap(([name, words]) => {
    const estimate = estimates[name];
    return estimate?.kind === "estimate"
      ? [{ measure: words, value: estimate.value, low: estimate.low, high: estimate.high }]
      : [];
  });
  const said = measures.map(([name, words]) => {
    const range = bounds[name];
    const between =
      range.kind === "bounds"
        ? `between ${shareText(range.low)} and ${shareText(range.high)}`
        : `no bounds (${range.reason})`;
    const estimate = estimates[name];
    return `${words.toLowerCase()} ${between}${estimate === undefined ? "" : `, ${label} ${percentWords(estimate)}`}`;
  });
  const x = shareAxis("Rate (%)");
  const y = {
    field: "measure",
    type: "nominal",
    sort: measures.map(([, words]) => words),
    axis: { title: null, domain: false, ticks: false, labelPadding: 6 },
  };
  return figureSpec({
    name: "verification-bounds",
    title: "What the unexamined children could change",
    caption: `Wide bars: each rate from the least to the greatest that the unexamined children could make it, ${counted(n, "child")} screened.${marks.length === 0 ? "" : ` Points with lines: estimates ${label} with their ${intervalsOf(Object.values(estimates))}.`}`,
    alt: `Bounds for unexamined children, n = ${grouped(n)}: ${said.join("; ")}.`,
    widthMm: columnMm.oneAndHalf,
    heightMm: 46,
    spec: {
      layer: [
        rangeBar(bars, { x, y }),
        ...intervalMarks(marks, { x, y }),
        {
          data: { values: marks },
          mark: { type: "point", filled: true, size: 30, color: colours.ink, opacity: 1 },
          encoding: { y, x: { field: "value", ...x } },
        },
      ],
    },
  });
}
