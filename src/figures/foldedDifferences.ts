import type { NonparametricLimits } from "../agreement/nonparametricLimits.js";
import type { FigureSpec } from "../results/index.js";
import type { PairedColumns } from "./differencePoints.js";
import { figureSpec } from "./figureSpec.js";
import { type Audience, smallestCell } from "./points.js";
import { numericAxis, referenceLine } from "./seriesLayers.js";
import { colours, columnMm, sizes } from "./theme.js";
import { counted, estimateWords, number } from "./words.js";

/**
 * The cumulative distribution of the differences, folded down above the median (Krouwer and Monti
 * 1995), so that both tails can be read on one scale; the percentiles of the result as lines.
 *
 * Steps are drawn at multiples of `step` (0.125 by default); for the public (default) only where at
 * least 11 rows lie between two of them and beyond the last.
 *
 * @param limits a result of `nonparametricLimits`
 * @param pairs the same rows
 *
 * @example
 * const pairs = { test: [1, 2, 3, 4, 5], reference: [0, 2, 3, 3, 5] };
 * foldedDifferences(nonparametricLimits(pairs), pairs).name // => "folded-differences"
 */
export function foldedDifferences(
  limits: NonparametricLimits,
  pairs: PairedColumns,
  options: {
    readonly quantity?: string;
    readonly unit?: string;
    readonly row?: string;
    readonly step?: number;
    readonly audience?: Audience;
  } = {},
): FigureSpec {
  const { quantity = "spherical equivalent", unit = "D", row = "eye", step = 0.125 } = options;
  const differences = Array.from(pairs.test, (value, at) => value - pairs.reference[at]!);
  const least = options.audience === "journal" ? 1 : smallestCell;
  const rows = folded(differences, step, least);
  const { lower, median, upper } = limits.percentiles;
  const x = numericAxis(`Difference, test − reference (${unit})`);
  const y = numericAxis("Rows at or beyond, from the nearer end (%)", {
    scale: { domain: [0, 50], nice: false },
  });
  const share = ((1 - limits.coverage) / 2) * 100;
  return figureSpec({
    name: "folded-differences",
    title: `Distribution of the differences: ${quantity}`,
    caption: `Folded cumulative distribution of the differences (test minus reference), ${quantity}, ${counted(limits.n, row)}. Dotted lines: percentiles ${number(share, 1)}, 50 and ${number(100 - share, 1)} (${number(lower)}, ${number(median)} and ${number(upper)} ${unit}).`,
    alt: `Folded distribution of differences, ${quantity}, n = ${limits.n}: median ${estimateWords(limits.median, unit)}; lower percentile ${estimateWords(limits.lower, unit)}; upper percentile ${estimateWords(limits.upper, unit)}.`,
    widthMm: columnMm.single,
    heightMm: 66,
    spec: {
      layer: [
        ...[lower, median, upper].map((at) => referenceLine("x", at, x)),
        {
          data: { values: rows },
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

/** The folded share at each step with enough rows since the last one and left beyond. */
function folded(differences: readonly number[], step: number, least: number) {
  const sorted = [...differences].sort((a, b) => a - b);
  const n = sorted.length;
  const from = Math.floor(sorted[0]! / step);
  const to = Math.ceil(sorted[n - 1]! / step);
  const rows: { x: number; y: number }[] = [];
  let below = 0;
  let last = 0;
  for (let at = from; at <= to; at++) {
    const x = Number((at * step).toFixed(10));
    while (below < n && sorted[below]! <= x) below++;
    const enough = below - last >= least && (n - below >= least || least === 1);
    if (!enough) continue;
    const share = (100 * below) / n;
    rows.push({ x, y: Number(Math.min(share, 100 - share).toFixed(4)) });
    last = below;
  }
  return rows;
}
