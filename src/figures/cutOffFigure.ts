import { type Audience, mayShow } from "../privacy/index.js";
import { type FigureSpec, shownTo } from "../results/index.js";
import { toThousandths } from "../rows/index.js";
import { fewChildrenWords, type ThresholdChoice } from "../thresholds/index.js";
import { figureSpec } from "./figureSpec.js";
import { numericAxis, percentLabels } from "./marks/seriesLayers.js";
import { colours, columnMm } from "./theme.js";
import { cutOffText, grouped, percentWords, sentence, shareText } from "./words.js";

/**
 * How often the bootstrap chose each cut-off: the uncertainty of the choice, cut-off by cut-off.
 *
 * `unit` names the unit on the axis, D by default.
 *
 * @param choice a result of `chooseThreshold`
 *
 * @example
 * const choice = await chooseThreshold({ values: [1, 2, 3, 4, 5, 6], condition: [0, 0, 1, 0, 1, 1] }, { positiveWhen: "high", criterion: "youden", seed: 1, replicates: 50, folds: 3, nested: { outer: 0, inner: 0 } });
 * cutOffFigure(choice).name // => "cut-off-distribution"
 */
export function cutOffFigure(
  choice: ThresholdChoice,
  options: { readonly unit?: string; readonly audience?: Audience } = {},
): FigureSpec {
  const { unit = "D" } = options;
  const audience = shownTo(options.audience, choice);
  const sign = choice.positiveWhen === "high" ? "≥" : "≤";
  const rows = choice.distribution
    .filter(({ cutOff, share }) => cutOff !== null && share > 0)
    .map(({ cutOff, share }) => ({
      cutOff,
      share,
      origin: cutOff === choice.cutOff ? "chosen on these data" : "chosen in a resample only",
    }));
  const nobody = choice.distribution.find(({ cutOff }) => cutOff === null)?.share ?? 0;
  const chosen =
    choice.cutOff === null
      ? "nobody"
      : cutOffText(choice.cutOff, { positiveWhen: choice.positiveWhen, unit });
  const shareOfChosen =
    choice.distribution.find(({ cutOff }) => cutOff === choice.cutOff)?.share ?? 0;
  const few = fewChildrenWords(choice.subjects ?? choice.n);
  return figureSpec({
    name: "cut-off-distribution",
    title: "How stable the chosen cut-off is",
    caption: `Share of ${grouped(choice.replicates)} bootstrap replicates in which each cut-off was chosen, n = ${grouped(choice.n)}; chosen on these data: ${chosen}. A distribution, not an interval.${nobody > 0 ? ` Nobody referred: ${shareText(nobody)}.` : ""}${few === null ? "" : ` ${few}`}`,
    alt: sentence(
      `Bootstrap distribution of the cut-off, n = ${grouped(choice.n)}: chosen ${chosen}, in ${shareText(shareOfChosen)} of replicates; ${(["sensitivity", "specificity"] as const).map((name) => rateWords(choice, name, audience)).join("; ")}${few === null ? "" : `. ${few}`}`,
    ),
    widthMm: columnMm.single,
    heightMm: 62,
    isEmpty: rows.length === 0,
    spec: {
      data: { values: rows },
      mark: { type: "bar", size: Math.max(2, Math.min(12, 150 / Math.max(1, rows.length))) },
      encoding: {
        x: {
          field: "cutOff",
          ...numericAxis(`Cut-off, refer at ${sign} (${unit})`, {
            axis:
              rows.length <= 9
                ? { values: rows.map(({ cutOff }) => cutOff), format: finest(rows) }
                : {},
          }),
        },
        y: {
          field: "share",
          ...numericAxis("Share of replicates (%)", { scale: { zero: true }, axis: percentLabels }),
        },
        color: {
          field: "origin",
          type: "nominal",
          scale: {
            domain: ["chosen on these data", "chosen in a resample only"],
            range: [colours.first, colours.third],
          },
          legend: { title: null, orient: "top", symbolType: "square", offset: 4, columns: 1 },
        },
      },
    },
  });
}

/** As many decimals as the finest cut-off has, two or three. */
function finest(rows: readonly { readonly cutOff: number | null }[]): string {
  return rows.some(({ cutOff }) => toThousandths(cutOff!) % 10 !== 0) ? ".3f" : ".2f";
}

/** Apparent and corrected; the public does not see a rate that gives a small count back. */
function rateWords(
  { apparent, corrected, correctedIntervals, table }: ThresholdChoice,
  name: "sensitivity" | "specificity",
  audience: Audience,
): string {
  const interval = correctedIntervals[name];
  const honest = interval.kind === "estimate" ? percentWords(interval) : shareText(corrected[name]);
  const counts =
    name === "sensitivity"
      ? [table.truePositive, table.falseNegative]
      : [table.trueNegative, table.falsePositive];
  return mayShow(counts, audience)
    ? `${name} ${shareText(apparent[name])} apparent and ${honest} corrected`
    : `${name} ${honest} corrected`;
}
