import type { NonparametricLimits } from "../agreement/index.js";
import { type FoldedDistribution, foldedDistribution } from "../agreement/index.js";
import { type Audience, leastFor, type PairedColumns } from "../privacy/index.js";
import { type FigureSpec, InputError, shownTo } from "../results/index.js";
import { figureSpec } from "./figureSpec.js";
import { numericAxis, referenceLine } from "./marks/seriesLayers.js";
import { colours, columnMm, sizes } from "./theme.js";
import { counted, estimateWords, grouped, number, sentence } from "./words.js";

/**
 * The cumulative distribution of the differences, folded down above the median (Krouwer and Monti
 * 1995), so that both tails can be read on one scale; the percentiles of the result as lines.
 *
 * For the public (default) at least 11 rows lie between two points and beyond the outermost.
 *
 * `unit` names the unit on the axis, D by default.
 *
 * @param limits a result of `nonparametricLimits`
 * @param distribution a result of `foldedDistribution` on the same rows, or the rows
 * @throws when rows lie too close together in a distribution that the public is to see
 *
 * @example
 * const pairs = { test: [1, 2, 3, 4, 5], reference: [0, 2, 3, 3, 5] };
 * foldedDifferencesFigure(nonparametricLimits(pairs), pairs).name // => "folded-differences"
 */
export function foldedDifferencesFigure(
  limits: NonparametricLimits,
  distribution: FoldedDistribution | PairedColumns,
  options: {
    readonly quantity?: string;
    readonly unit?: string;
    readonly row?: string;
    /** Step of the points, where rows are given; 0.125 by default. */
    readonly step?: number;
    readonly audience?: Audience;
  } = {},
): FigureSpec {
  const { quantity = "spherical equivalent", unit = "D", row = "eye" } = options;
  const audience = shownTo(options.audience, distribution);
  const { points, rowsApart } = distributionFor(distribution, audience, options.step);
  const { lower, median, upper } = limits.percentiles;
  const x = numericAxis(`Difference, test − reference (${unit})`);
  const y = numericAxis(`${sentence(`${row}s`).slice(0, -1)} at or beyond (%)`, {
    scale: { domain: [0, 50], nice: false },
  });
  const share = ((1 - limits.coverage) / 2) * 100;
  return figureSpec({
    name: "folded-differences",
    title: `Distribution of the differences: ${quantity}`,
    caption: `Folded cumulative distribution of the differences (test minus reference), ${quantity}, ${counted(limits.n, row)}: the share at or beyond each difference, counted from the nearer end, so that it is highest at the median.${rowsApart > 1 ? ` At least ${rowsApart} ${row}s lie between two corners of the line, and at or beyond either end.` : ""} Dotted lines: percentiles ${number(share, 1)}, 50 and ${number(100 - share, 1)} (${number(lower)}, ${number(median)} and ${number(upper)} ${unit}).`,
    alt: `Folded distribution of differences, ${quantity}, n = ${grouped(limits.n)}: median ${estimateWords(limits.median, unit)}; lower percentile ${estimateWords(limits.lower, unit)}; upper percentile ${estimateWords(limits.upper, unit)}.`,
    widthMm: columnMm.single,
    heightMm: 66,
    spec: {
      layer: [
        ...[lower, median, upper].map((at) => referenceLine("x", at, x)),
        {
          data: {
            values: points.map(({ difference, percent }) => ({ x: difference, y: percent })),
          },
          mark: { type: "line", color: colours.first, strokeWidth: sizes.line * 1.2 },
          encoding: {
            x: { field: "x", ...x },
            y: { field: "y", ...y },
            order: { field: "x", type: "quantitative" },
          },
        },
      ],
    },
  });
}

/** The distribution as the audience may see it. */
function distributionFor(
  source: FoldedDistribution | PairedColumns,
  audience: Audience,
  step: number | undefined,
): FoldedDistribution {
  const least = leastFor(audience);
  if (!("points" in source)) {
    return foldedDistribution(source, {
      rowsApart: least,
      ...(step === undefined ? {} : { step }),
    });
  }
  if (source.rowsApart < least) {
    throw new InputError(
      `foldedDifferencesFigure for the public requires points at least ${least} rows apart, got ${source.rowsApart}`,
    );
  }
  return source;
}
