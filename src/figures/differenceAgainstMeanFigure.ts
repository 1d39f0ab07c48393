import type { RegressionLimits } from "../agreement/index.js";
import { type CoarseCount, coarsen } from "../disclosure/index.js";
import type { Audience, PairedColumns, PointOptions, ShownPairs } from "../privacy/index.js";
import { type FigureSpec, shownTo } from "../results/index.js";
import { figureSpec, type Part } from "./figureSpec.js";
import {
  acceptableBand,
  besideLines,
  drawnValues,
  endsOf,
  type Limit,
  type LimitsShown,
  levelBand,
  levelLine,
  linesOf,
  summariesOf,
  wordsApart,
  zeroLine,
} from "./marks/differenceLines.js";
import { besideMargin, marginLayer } from "./marks/marginLayer.js";
import { pairLayers } from "./marks/pairLayers.js";
import {
  differencesOf,
  isNothing,
  noteOf,
  onCells,
  placesOf,
  roomAround,
  toTheEnds,
} from "./marks/pairMarks.js";
import { regressionLayers, regressionWords } from "./marks/regressionLayers.js";
import { roomForMarks } from "./marks/seriesLayers.js";
import { columnMm } from "./theme.js";
import {
  counted,
  estimateWords,
  grouped,
  intervalsOf,
  percent,
  quantity as quantityWords,
  sentence,
} from "./words.js";

/** Room for a name above the uppermost and below the lowest line, in points. */
const roomForWords = { padding: 12 } as const;

export interface DifferenceAgainstMeanOptions extends PointOptions {
  /** What was measured, such as "spherical equivalent". */
  readonly quantity?: string;
  /** "D" by default. */
  readonly unit?: string;
  /** What a row is; "eye" by default. */
  readonly row?: string;
  /** A result of `regressionLimits` on the same rows, drawn in place of the level limits. */
  readonly regression?: RegressionLimits;
  /** Draws the distribution of the differences along the right edge; not for the public, whose cells differ in height. */
  readonly histogram?: boolean;
  /** The greatest difference that was called acceptable in advance, such as a protocol states it: a band about 0. */
  readonly acceptable?: number;
}

/**
 * Differences (test minus reference) against the mean of the two, with the bias, the leading limits
 * of agreement and the interval of each as a band, and the other limits as thin lines.
 *
 * Draws the numbers of the result. Without points only the lines are drawn; with them, cells of at
 * least 11 rows, or for the audience "journal" one mark a row.
 *
 * `unit` names the unit on the axis, D by default.
 *
 * @param agreement a result of `limitsOfAgreement`
 * @param points the plotted rows, or what `differencePoints` made of them
 * @throws when the columns of points differ in length or hold what is not a number
 *
 * @example
 * differenceAgainstMeanFigure(limitsOfAgreement({ test: [1, 2, 4], reference: [1, 3, 3] })).kind // => "figure"
 */
export function differenceAgainstMeanFigure(
  agreement: LimitsShown,
  points?: PairedColumns | ShownPairs,
  options: DifferenceAgainstMeanOptions = {},
): FigureSpec {
  const { quantity = "spherical equivalent", unit = "D", row = "eye", regression } = options;
  const { acceptable } = options;
  const audience = shownTo(options.audience, agreement, points);
  const pairs = differencesOf(points, { ...options, audience });
  const { leading, beside } = summariesOf(agreement);
  const lines = linesOf(agreement.bias, leading);
  const drawn = [
    ...drawnValues(lines, beside, regression),
    ...(acceptable === undefined ? [] : [-acceptable, acceptable]),
  ];
  const ends = pairs?.kind === "coarse-pairs" ? endsOf(pairs.cells, drawn) : null;
  const shown = ends === null ? pairs : toTheEnds(pairs, ends);
  const named = beside !== null && regression === undefined;
  const height = [...drawn, ...placesOf(shown).map((place) => place.y), 0];
  const wordsAt = wordsApart(
    lines,
    [Math.min(...height), Math.max(...height)],
    130,
    named ? beside : null,
  );
  const scale = (axis: "x" | "y") => ({
    zero: false,
    ...(ends === null
      ? { nice: true, ...(axis === "y" && named ? roomForWords : roomForMarks) }
      : { nice: false, domain: ends[axis] }),
  });
  const y = {
    type: "quantitative",
    axis: { title: `Difference, test − reference (${unit})` },
    scale: scale("y"),
  };
  const withHistogram =
    options.histogram === true && shown !== undefined && shown.kind !== "coarse-pairs";
  const x = {
    type: "quantitative",
    axis: { title: `Mean of test and reference (${unit})` },
    scale: {
      ...scale("x"),
      ...roomAround(shown, "x"),
      ...(withHistogram ? { range: besideMargin } : {}),
    },
  };
  const isCounted = onCells(shown);
  const sloped = regression && regressionLayers(regression, { x, y, onCells: isCounted });
  const level = [
    ...lines.map(({ name, estimate }) => `${name} ${estimateWords(estimate, unit)}`),
    ...(beside === null
      ? []
      : [
          `${beside.words}: lower limit ${estimateWords(beside.lower, unit)}; upper limit ${estimateWords(beside.upper, unit)}`,
        ]),
  ].join("; ");
  const said =
    regression === undefined
      ? level
      : `${regressionWords(regression)}; level limits, not drawn: ${level}`;
  const range = acceptable === undefined ? "" : `±${quantityWords(acceptable, unit)}`;
  const cells = pairLayers(shown, { x, y, noun: `${row}s`, area: `${unit}²` });
  // bands lie on the marks, and let them shine through: below them a narrow one would be hidden
  const main: readonly Part[] = [
    ...cells,
    ...acceptableBand(acceptable, y),
    ...(sloped?.behind ?? lines.flatMap((one) => levelBand(one, y))),
    zeroLine(y),
    ...(sloped?.above ??
      lines.flatMap((one) =>
        levelLine(one, { unit, y, onCells: isCounted, wordsAt: wordsAt.get(one.name) }),
      )),
    ...(beside !== null && named ? besideLines(beside, { unit, y, wordsAt }) : []),
  ];
  return figureSpec({
    name: "difference-against-mean",
    title: `Agreement of test and reference: ${quantity}`,
    caption: [
      `${sentence(quantity)} Difference (test minus reference) against the mean of the two${agreement.n === null ? "" : `, ${counted(agreement.n, row)}`}.`,
      `Solid line: bias; dashed lines: ${leading.words === "" ? "" : `${leading.words} `}limits of agreement; bands${sloped === undefined ? ", and bars beside the plane" : ""}: ${bandsOf(regression, lines)}; dotted line: no difference.`,
      range === "" ? "" : `Grey band: ${range}, the difference called acceptable in advance.`,
      beside === null || sloped !== undefined
        ? ""
        : `Thin dotted lines in brackets: ${beside.words} (bias ± SDs and percentiles are both given; ${leading.words} limits lead).`,
      countsBeyond(agreement, row, audience),
      regression === undefined
        ? ""
        : sentence(`Lines of regression on the mean of the two: ${regressionWords(regression)}`),
      withHistogram ? "Grey bars: distribution of the differences." : "",
      noteOf(shown, unit),
    ]
      .filter(Boolean)
      .join(" "),
    alt: `Difference against mean, ${quantity}${agreement.n === null ? "" : `, n = ${grouped(agreement.n)}`}: ${said}${range === "" ? "" : `; called acceptable in advance: ${range}`}.`,
    widthMm: columnMm.single,
    heightMm: 72,
    isEmpty:
      sloped === undefined &&
      lines.every(({ estimate }) => estimate.kind === "undefined") &&
      (shown === undefined || isNothing(shown)),
    spec: withHistogram
      ? {
          layer: [{ layer: main }, marginLayer(shown, y, 0.25)],
          resolve: { scale: { x: "independent" } },
        }
      : { layer: main },
  });
}

/** "Beyond bias ± SDs: 5 eyes below, 22 above."; coarse counts for the public. */
function countsBeyond({ outside }: LimitsShown, row: string, audience: Audience): string {
  if (outside === undefined) return "";
  const words = (count: number | CoarseCount) =>
    typeof count !== "number"
      ? count.words
      : audience === "journal"
        ? String(count)
        : coarsen(count).words;
  return `Beyond bias ± SDs: ${words(outside.below)} ${row}s below, ${words(outside.above)} above.`;
}

function bandsOf(
  regression: RegressionLimits | undefined,
  lines: readonly { readonly estimate: Limit }[],
): string {
  if (regression?.band.kind !== "conditional-band") {
    return `their ${intervalsOf([regression?.points[0]?.bias, ...lines.map(({ estimate }) => estimate)])}`;
  }
  return `${intervalsOf([regression.points[0]?.bias])} of the bias and ${percent(regression.band.level)} of both limits at once`;
}
