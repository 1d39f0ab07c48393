import type { LeadingLimits, RegressionLimits } from "../agreement/index.js";
import { type CoarseCount, coarsen } from "../disclosure/index.js";
import type { Audience, PairedColumns, PointOptions, ShownPairs } from "../privacy/index.js";
import {
  type Estimate,
  type FigureSpec,
  type ForAudience,
  type OneSided,
  shownTo,
  type Undefined,
} from "../results/index.js";
import { figureSpec, type Part } from "./figureSpec.js";
import { besideMargin, marginLayer } from "./marks/marginLayer.js";
import { pairLayers } from "./marks/pairLayers.js";
import {
  differencesOf,
  isNothing,
  noteOf,
  onCells,
  roomAround,
  toTheEnds,
} from "./marks/pairMarks.js";
import { regressionLayers, regressionWords } from "./marks/regressionLayers.js";
import { colours, columnMm, type Dash, dashed, dashes, halo, sizes } from "./theme.js";
import {
  counted,
  decimalsFor,
  estimateWords,
  grouped,
  intervalsOf,
  number,
  percent,
  sentence,
} from "./words.js";

/** What the figure needs of a result of `limitsOfAgreement`. */
export interface LimitsShown extends ForAudience {
  /** Null where the number is not for the reader: then neither caption nor description says it. */
  readonly n: number | null;
  readonly bias: Estimate | Undefined;
  readonly lower: Estimate | Undefined;
  readonly upper: Estimate | Undefined;
  /** Rows beyond each side of `lower` and `upper`. */
  readonly outside?: { readonly [side in "below" | "above"]: number | CoarseCount };
  readonly percentile?: { readonly lower: Limit; readonly upper: Limit } | Undefined;
  /** The summary that is drawn with its interval; the other stands beside it. */
  readonly leads?: LeadingLimits;
}

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
  const audience = shownTo(options.audience, agreement, points);
  const pairs = differencesOf(points, { ...options, audience });
  const { leading, beside } = summariesOf(agreement);
  const lines = [
    { name: "upper limit", estimate: leading.upper, dash: "long", colour: "second" },
    { name: "bias", estimate: agreement.bias, dash: "solid", colour: "first" },
    { name: "lower limit", estimate: leading.lower, dash: "long", colour: "second" },
  ] as const;
  const ends =
    pairs?.kind === "coarse-pairs"
      ? endsOf(pairs, [...lines, ...levels(beside), ...limitsOf(regression)])
      : null;
  const shown = ends === null ? pairs : toTheEnds(pairs, ends);
  const y = {
    type: "quantitative",
    axis: { title: `Difference, test − reference (${unit})` },
    scale: { zero: false, ...(ends === null ? { nice: true } : { nice: false, domain: ends.y }) },
  };
  const withHistogram =
    options.histogram === true && shown !== undefined && shown.kind !== "coarse-pairs";
  const x = {
    type: "quantitative",
    axis: { title: `Mean of test and reference (${unit})` },
    scale: {
      zero: false,
      ...(ends === null ? { nice: true } : { nice: false, domain: ends.x }),
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
  const cells = pairLayers(shown, { x, y, noun: `${row}s` });
  const main: readonly Part[] = [
    // cells fill the plane: the bands lie on them
    ...(isCounted ? cells : []),
    ...(sloped?.behind ?? lines.flatMap(({ estimate, colour }) => band(estimate, colour, y))),
    ...(isCounted ? [] : cells),
    {
      data: { values: [{ y: 0 }] },
      mark: {
        type: "rule",
        color: colours.quiet,
        strokeWidth: sizes.thin,
        strokeDash: dashes.dotted,
      },
      encoding: { y: { field: "y", ...y } },
    },
    ...(sloped?.above ??
      lines.flatMap(({ name, estimate, dash, colour }) =>
        line(name, estimate, { dash, colour, unit, y, onCells: isCounted }),
      )),
    ...(sloped === undefined && beside !== null ? besideLines(beside, unit, y) : []),
  ];
  return figureSpec({
    name: "difference-against-mean",
    title: `Agreement of test and reference: ${quantity}`,
    caption: [
      `${sentence(quantity)} Difference (test minus reference) against the mean of the two${agreement.n === null ? "" : `, ${counted(agreement.n, row)}`}.`,
      `Solid line: bias; dashed lines: ${leading.words === "" ? "" : `${leading.words} `}limits of agreement; bands: ${bandsOf(regression, lines)}; dotted line: no difference.`,
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
    alt: `Difference against mean, ${quantity}${agreement.n === null ? "" : `, n = ${grouped(agreement.n)}`}: ${said}.`,
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

type Limit = Estimate | OneSided | Undefined;

const levels = (beside: Summary | null) =>
  beside === null ? [] : [{ estimate: beside.lower }, { estimate: beside.upper }];

/** Where the axes end: beyond the cells, and beyond every line by half a dioptre. */
function endsOf(
  { cells }: ShownPairs & { readonly kind: "coarse-pairs" },
  lines: readonly { readonly estimate: Limit }[],
): { readonly x: readonly [number, number]; readonly y: readonly [number, number] } | null {
  if (cells.length === 0) return null;
  const drawn = lines.flatMap(({ estimate: { value, low, high } }) =>
    [value, low, high].filter((end): end is number => typeof end === "number"),
  );
  const x = cells.flatMap((cell) => [cell.x, cell.x2]);
  const y = [...cells.flatMap((cell) => [cell.y, cell.y2]), ...drawn];
  const half = (end: number) => Math.round(2 * end) / 2;
  return {
    x: [Math.min(...x), Math.max(...x)],
    y: [half(Math.min(...y) - 0.25), half(Math.max(...y) + 0.25)],
  };
}

interface Summary {
  readonly words: string;
  readonly lower: Limit;
  readonly upper: Limit;
}

/** What leads and what stands beside it; without percentiles the one summary there is. */
function summariesOf(agreement: LimitsShown): {
  readonly leading: Summary;
  readonly beside: Summary | null;
} {
  const { lower, upper, percentile, leads = "percentile" } = agreement;
  if (percentile === undefined || "reason" in percentile) {
    return { leading: { words: "", lower, upper }, beside: null };
  }
  const normal = { words: "if the differences are normal", lower, upper };
  const observed = { words: "percentile", lower: percentile.lower, upper: percentile.upper };
  return leads === "percentile"
    ? { leading: observed, beside: normal }
    : { leading: { ...normal, words: "normal-theory" }, beside: observed };
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

const limitsOf = (regression: RegressionLimits | undefined) =>
  (regression?.points ?? []).flatMap(({ lower, upper }) => [
    { estimate: lower },
    { estimate: upper },
  ]);

function bandsOf(
  regression: RegressionLimits | undefined,
  lines: readonly { readonly estimate: Limit }[],
): string {
  if (regression?.band.kind !== "conditional-band") {
    return `their ${intervalsOf([regression?.points[0]?.bias, ...lines.map(({ estimate }) => estimate)])}`;
  }
  return `${intervalsOf([regression.points[0]?.bias])} of the bias and ${percent(regression.band.level)} of both limits at once`;
}

/** The other limits: thin lines without a band, named at the left and inwards, so that no name meets an axis. */
function besideLines({ words, lower, upper }: Summary, unit: string, y: Part): readonly Part[] {
  return [lower, upper].flatMap((limit) => {
    if (limit.kind === "undefined") return [];
    const below = limit === upper;
    const data = { values: [{ y: limit.value }] };
    const encoding = { y: { field: "y", ...y } };
    return [
      {
        data,
        mark: {
          type: "rule",
          color: colours.second,
          strokeWidth: sizes.thin,
          strokeDash: dashes.dotted,
        },
        encoding,
      },
      // the words stand on marks and cells: a white rim keeps them apart
      ...[{ stroke: "#ffffff", strokeWidth: 2.5, color: "#ffffff" }, { color: colours.quiet }].map(
        (look) => ({
          data,
          mark: {
            type: "text",
            align: "left",
            baseline: below ? "top" : "bottom",
            dx: 2,
            dy: below ? 2 : -2,
            ...look,
          },
          encoding: {
            ...encoding,
            x: { value: 0 },
            text: { value: `(${words}: ${number(limit.value)} ${unit})` },
          },
        }),
      ),
    ];
  });
}

function band(estimate: Limit, colour: "first" | "second", y: Part): readonly Part[] {
  if (estimate.kind !== "estimate") return [];
  return [
    {
      data: { values: [{ low: estimate.low, high: estimate.high }] },
      mark: { type: "rect", color: colours[`${colour}Band`], opacity: 0.75 },
      encoding: { y: { field: "low", ...y }, y2: { field: "high" } },
    },
  ];
}

function line(
  name: string,
  estimate: Limit,
  look: {
    readonly dash: Dash;
    readonly colour: "first" | "second";
    readonly unit: string;
    readonly y: Part;
    readonly onCells: boolean;
  },
): readonly Part[] {
  if (estimate.kind === "undefined") return [];
  const decimals =
    estimate.kind === "estimate" ? Math.min(2, decimalsFor(estimate.high - estimate.low)) : 2;
  const data = { values: [{ y: estimate.value }] };
  const y = { field: "y", ...look.y };
  const rule = (color: string, strokeWidth: number) => ({
    data,
    mark: { type: "rule", color, strokeWidth, ...dashed(look.dash) },
    encoding: { y },
  });
  return [
    ...(look.onCells ? [rule(halo.color, sizes.line + halo.extraWidth)] : []),
    rule(colours[look.colour], sizes.line),
    {
      data,
      mark: { type: "text", align: "left", baseline: "middle", dx: 3, lineHeight: 8 },
      encoding: {
        y,
        x: { value: "width" },
        text: { value: `${name.split(" ")[0]} ${number(estimate.value, decimals)} ${look.unit}` },
      },
    },
  ];
}
