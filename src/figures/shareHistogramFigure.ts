import type { GroupDistribution, ShareDistributions } from "../cohort/index.js";
import { type Audience, leastFor, mayShow, smallestCount } from "../privacy/index.js";
import { type FigureSpec, InputError } from "../results/index.js";
import { figureSpec } from "./figureSpec.js";
import { numericAxis, seriesLayers } from "./marks/seriesLayers.js";
import { columnMm } from "./theme.js";
import { counted, grouped, number, sentence } from "./words.js";

export interface ShareHistogramOptions {
  /** What is distributed, such as "spherical equivalent". */
  readonly quantity: string;
  readonly unit?: string;
  readonly row?: string;
  readonly name?: string;
  readonly title?: string;
  /** The first sentence of the caption, before the numbers. */
  readonly lead?: string;
  /** Whether the groups are the same rows, measured in several ways; false by default. */
  readonly sameRows?: boolean;
  readonly audience?: Audience;
}

/**
 * Distributions of one quantity in two to four groups, as shares of each group. The area under each
 * line is the same, whatever the sizes of the groups.
 *
 * For the public (default) bins hold at least 11, and groups of fewer than that are named only.
 *
 * @param distributions a result of `shareDistributions`
 * @throws when the bins are too small for the public
 *
 * @example
 * shareHistogramFigure(shareDistributions({ examined: [-1, -1.5, 0], "not examined": [0, 0.5] }, { smallestBin: 1 }), { quantity: "spherical equivalent", audience: "journal" }).name // => "share-histogram"
 */
export function shareHistogramFigure(
  distributions: ShareDistributions,
  options: ShareHistogramOptions,
): FigureSpec {
  const { quantity, unit = "D", row = "eye", name = "share-histogram" } = options;
  const { audience = "public" } = options;
  const { smallestBin } = distributions;
  if (smallestBin < leastFor(audience)) {
    throw new InputError(
      `shareHistogramFigure for the public requires bins of at least ${smallestCount}, got ${smallestBin}`,
    );
  }
  const isFew = ({ n }: GroupDistribution) => !mayShow([n], audience);
  const shown = distributions.groups.filter((group) => !isFew(group));
  const few = distributions.groups.filter(isFew).map(({ group }) => group);
  const { sameRows = false } = options;
  const n = sameRows
    ? Math.max(0, ...shown.map((group) => group.n))
    : shown.reduce((sum, group) => sum + group.n, 0);
  const beyond = shown.reduce((sum, { outsideBins }) => sum + outsideBins, 0);
  const sizes = shown.map((one) => `${one.group} ${counted(one.n, row)}`).join("; ");
  const { standardisedDifference } = distributions;
  const apart =
    standardisedDifference === null || few.length > 0
      ? ""
      : `standardised difference ${number(standardisedDifference)}`;
  const rows = shown.flatMap(({ group, bins }) => [
    ...bins.slice(0, 1).map(({ from }) => ({ series: group, x: from, y: 0 })),
    ...bins.map(({ from, percentPerUnit }) => ({ series: group, x: from, y: percentPerUnit })),
    ...bins.slice(-1).map(({ to }) => ({ series: group, x: to, y: 0 })),
  ]);
  const axis = sentence(quantity).slice(0, -1);
  return figureSpec({
    name,
    title: options.title ?? `Distribution of ${quantity}`,
    caption: [
      `${options.lead ?? `Distribution of ${quantity} as share of each group`}, n = ${grouped(n)}${sameRows ? ` (the same ${row}s in each)` : ""}: ${sizes}.`,
      sentence(apart),
      smallestBin > 1 ? `Bins hold at least ${smallestBin}.` : "",
      beyond > 0 ? `${beyond} in smaller bins at the ends are not drawn.` : "",
      few.length === 0 ? "" : `Fewer than ${smallestCount}, not shown: ${few.join(", ")}.`,
    ]
      .filter((part) => part !== "" && part !== ".")
      .join(" "),
    alt: sentence(
      `${options.title ?? `Distribution of ${quantity}`}, n = ${grouped(n)}: ${[...shown.map((one) => groupWords(one, unit, row)), apart].filter(Boolean).join("; ")}`,
    ),
    widthMm: columnMm.single,
    heightMm: 66,
    isEmpty: rows.length === 0,
    spec: {
      layer: seriesLayers(
        rows,
        shown.map(({ group }) => group),
        {
          x: numericAxis(`${axis} (${unit})`),
          y: numericAxis(`Share of the group (% per ${unit})`, { scale: { zero: true } }),
        },
      ).map((layer) => ({
        ...layer,
        mark: { ...(layer.mark as object), interpolate: "step-after" },
      })),
    },
  });
}

/** "examined 120 eyes, median −0.50 D (quartiles −1.25 to 0.25)". */
function groupWords(
  { group, n, median, lowerQuartile, upperQuartile }: GroupDistribution,
  unit: string,
  row: string,
): string {
  const size = `${group} ${counted(n, row)}`;
  if (median === null || lowerQuartile === null || upperQuartile === null) return size;
  return `${size}, median ${number(median)} ${unit} (quartiles ${number(lowerQuartile)} to ${number(upperQuartile)})`;
}
