import type { LeadingLimits, RegressionLimits } from "../../agreement/index.js";
import type { CoarseCount } from "../../disclosure/index.js";
import type { ShownPairs } from "../../privacy/index.js";
import type { Estimate, ForAudience, OneSided, Undefined } from "../../results/index.js";
import type { Part } from "../figureSpec.js";
import { bandLook, colours, type Dash, dashed, dashes, halo, sizes } from "../theme.js";
import { decimalsFor, number } from "../words.js";

export type Limit = Estimate | OneSided | Undefined;

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

/** Lower and upper limits by one way of counting them. */
export interface Summary {
  /** The way in words, for the caption; "" where there is one only. */
  readonly words: string;
  /** The same beside its line. */
  readonly short: string;
  readonly lower: Limit;
  readonly upper: Limit;
}

/** What leads and what stands beside it; without percentiles the one summary there is. */
export function summariesOf(agreement: LimitsShown): {
  readonly leading: Summary;
  readonly beside: Summary | null;
} {
  const { lower, upper, percentile, leads = "percentile" } = agreement;
  if (percentile === undefined || "reason" in percentile) {
    return { leading: { words: "", short: "", lower, upper }, beside: null };
  }
  const words = "if the differences are normal";
  const normal = { words, short: "if normal", lower, upper };
  const observed = { ...percentile, words: "percentile", short: "percentile" };
  return leads === "percentile"
    ? { leading: observed, beside: normal }
    : { leading: { ...normal, words: "normal-theory" }, beside: observed };
}

/** A line of the plane with its name. */
export interface NamedLine {
  readonly name: string;
  readonly estimate: Limit;
  readonly dash: Dash;
  readonly colour: "first" | "second";
}

/** Bias and the leading limits. */
export function linesOf(bias: Limit, { lower, upper }: Summary): readonly NamedLine[] {
  return [
    { name: "upper limit", estimate: upper, dash: "long", colour: "second" },
    { name: "bias", estimate: bias, dash: "solid", colour: "first" },
    { name: "lower limit", estimate: lower, dash: "long", colour: "second" },
  ];
}

/** Everything that a line, a band or the acceptable range needs of the axis of differences. */
export function drawnValues(
  lines: readonly { readonly estimate: Limit }[],
  beside: Summary | null,
  regression?: RegressionLimits,
): readonly number[] {
  const sloped = (regression?.points ?? []).flatMap(({ lower, upper }) => [lower, upper]);
  const all = [...lines.map(({ estimate }) => estimate), beside?.lower, beside?.upper, ...sloped];
  return all.flatMap((limit) =>
    limit === undefined
      ? []
      : [limit.value, limit.low, limit.high].filter(
          (end): end is number => typeof end === "number",
        ),
  );
}

/** Where the axes end: beyond the cells, and beyond every line by half a dioptre. */
export function endsOf(
  cells: (ShownPairs & { readonly kind: "coarse-pairs" })["cells"],
  drawn: readonly number[],
): { readonly x: readonly [number, number]; readonly y: readonly [number, number] } | null {
  if (cells.length === 0) return null;
  const x = cells.flatMap((cell) => [cell.x, cell.x2]);
  const y = [...cells.flatMap((cell) => [cell.y, cell.y2]), ...drawn];
  const half = (end: number) => Math.round(2 * end) / 2;
  return {
    x: [Math.min(...x), Math.max(...x)],
    y: [half(Math.min(...y) - 0.25), half(Math.max(...y) + 0.25)],
  };
}

/** The range that was called acceptable before the data were seen. */
export function acceptableBand(acceptable: number | undefined, y: Part): readonly Part[] {
  if (acceptable === undefined) return [];
  return [
    {
      data: { values: [{ low: -acceptable, high: acceptable }] },
      mark: { type: "rect", ...bandLook("quiet"), strokeDash: dashes.mixed },
      encoding: { y: { field: "low", ...y }, y2: { field: "high" } },
    },
  ];
}

/** The interval of a level line over the whole plane. */
export function levelBand({ estimate, colour }: NamedLine, y: Part): readonly Part[] {
  if (estimate.kind !== "estimate") return [];
  return [
    {
      data: { values: [{ low: estimate.low, high: estimate.high }] },
      mark: { type: "rect", ...bandLook(colour) },
      encoding: { y: { field: "low", ...y }, y2: { field: "high" } },
    },
  ];
}

/** No difference: a thin dotted line. */
export function zeroLine(y: Part): Part {
  return {
    data: { values: [{ y: 0 }] },
    mark: {
      type: "rule",
      color: colours.quiet,
      strokeWidth: sizes.thin,
      strokeDash: dashes.dotted,
    },
    encoding: { y: { field: "y", ...y } },
  };
}

/** Beside a plane of this width; of a single one, Vega knows the width. */
const besidePlane = (width: number | undefined): Part => ({
  value: width === undefined ? { expr: "width + 5" } : width + 5,
});

/** The interval once more beside the plane, where no mark and no line covers a narrow one. */
function besideBar(
  { estimate, colour }: NamedLine,
  y: Part,
  width: number | undefined,
): readonly Part[] {
  if (estimate.kind !== "estimate") return [];
  const { low, high } = estimate;
  const x = besidePlane(width);
  const end = (at: number): Part => ({
    data: { values: [{ y: at }] },
    mark: {
      type: "tick",
      orient: "horizontal",
      color: colours[colour],
      thickness: 0.5,
      size: 5,
      opacity: 1,
    },
    encoding: { x, y: { field: "y", ...y } },
  });
  return [
    {
      data: { values: [{ low, high }] },
      mark: { type: "bar", orient: "vertical", width: 0.8, color: colours[colour] },
      encoding: { x, y: { field: "low", ...y }, y2: { field: "high" } },
    },
    end(low),
    end(high),
  ];
}

/** A level line, its name with its number to the right, and its interval between the two. */
export function levelLine(
  one: NamedLine,
  look: {
    readonly unit: string;
    readonly y: Part;
    readonly onCells: boolean;
    readonly named?: boolean;
    /** Of the plane, where it is one of several. */
    readonly width?: number;
    /** Where the words stand, if not beside their line. */
    readonly wordsAt?: number | undefined;
  },
): readonly Part[] {
  const { name, estimate, dash, colour } = one;
  const { unit, named = true } = look;
  if (estimate.kind === "undefined") return [];
  const decimals =
    estimate.kind === "estimate" ? Math.min(2, decimalsFor(estimate.high - estimate.low)) : 2;
  const data = { values: [{ y: estimate.value }] };
  const y = { field: "y", ...look.y };
  const rule = (color: string, strokeWidth: number) => ({
    data,
    mark: { type: "rule", color, strokeWidth, ...dashed(dash) },
    encoding: { y },
  });
  const words = `${number(estimate.value, decimals)} ${unit}`;
  return [
    ...(look.onCells ? [rule(halo.color, sizes.line + halo.extraWidth)] : []),
    rule(colours[colour], sizes.line),
    ...besideBar(one, look.y, look.width),
    {
      data: { values: [{ y: look.wordsAt ?? estimate.value }] },
      mark: { type: "text", align: "left", baseline: "middle", dx: 10, lineHeight: 8 },
      encoding: {
        y,
        x: { value: "width" },
        text: { value: named ? `${name.split(" ")[0]} ${words}` : words },
      },
    },
  ];
}

/**
 * Where the words of the lines stand: beside them, and apart where the lines are closer to each other
 * than their words are high. `height` is that of the plane in points, `ends` of its axis.
 */
export function wordsApart(
  lines: readonly Pick<NamedLine, "name" | "estimate">[],
  ends: readonly [number, number],
  height: number,
  beside: Summary | null = null,
): ReadonlyMap<string, number> {
  const line = (9 / height) * (ends[1] - ends[0]);
  const all = [
    ...lines.map((one) => ({ ...one, high: line })),
    ...(beside === null ? [] : besideOf(beside).map((one) => ({ ...one, high: 2.1 * line }))),
  ];
  const known = all.flatMap(({ name, estimate, high }) =>
    estimate.kind === "undefined" ? [] : [{ name, at: estimate.value, high }],
  );
  const sorted = [...known].sort((a, b) => a.at - b.at);
  // pushed away from the one in the middle, which stays
  const centre = Math.floor((known.length - 1) / 2);
  const places = sorted.map(({ at }) => at);
  const gap = (one: number, other: number) => (sorted[one]!.high + sorted[other]!.high) / 2;
  for (let next = centre + 1; next < places.length; next++) {
    places[next] = Math.max(places[next]!, places[next - 1]! + gap(next, next - 1));
  }
  for (let next = centre - 1; next >= 0; next--) {
    places[next] = Math.min(places[next]!, places[next + 1]! - gap(next, next + 1));
  }
  return new Map(sorted.map(({ name }, at) => [name, places[at]!]));
}

const besideOf = ({ lower, upper }: Summary): readonly Pick<NamedLine, "name" | "estimate">[] => [
  { name: "lower beside", estimate: lower },
  { name: "upper beside", estimate: upper },
];

/** The other limits: thin lines without a band, named beside the plane, where no mark stands. */
export function besideLines(
  beside: Summary,
  {
    unit,
    y,
    wordsAt,
  }: { readonly unit: string; readonly y: Part; readonly wordsAt: ReadonlyMap<string, number> },
): readonly Part[] {
  return besideOf(beside).flatMap(({ name, estimate }) => {
    if (estimate.kind === "undefined") return [];
    const place = (at: number) => ({
      data: { values: [{ y: at }] },
      encoding: { y: { field: "y", ...y } },
    });
    const words = place(wordsAt.get(name) ?? estimate.value);
    return [
      {
        ...place(estimate.value),
        mark: {
          type: "rule",
          color: colours.second,
          strokeWidth: sizes.thin,
          strokeDash: dashes.dotted,
        },
      },
      {
        ...words,
        mark: {
          type: "text",
          align: "left",
          baseline: "middle",
          dx: 10,
          dy: -4,
          lineHeight: 8,
          color: colours.quiet,
        },
        encoding: {
          ...words.encoding,
          x: { value: "width" },
          text: { value: [`(${beside.short}`, `${number(estimate.value)} ${unit})`] },
        },
      },
    ];
  });
}
