import type { Part } from "../figureSpec.js";
import { colours, dashes, halo, sizes } from "../theme.js";

/** One point of a named line, with its interval where it has one. */
export interface SeriesRow {
  readonly series: string;
  readonly x: number;
  readonly y: number;
  readonly low?: number;
  readonly high?: number;
}

const looks = [
  { colour: colours.first, dash: [1, 0] },
  { colour: colours.second, dash: dashes.long },
  { colour: colours.third, dash: dashes.short },
  { colour: colours.ink, dash: dashes.mixed },
] as const;

/** Lines told apart by colour and by pattern, with bands behind them and a legend of their names. */
export function seriesLayers(
  rows: readonly SeriesRow[],
  names: readonly string[],
  {
    x,
    y,
    markAll = false,
    onCells = false,
  }: {
    readonly x: Part;
    readonly y: Part;
    readonly markAll?: boolean;
    /** Lines with a white edge, for a plane with shaded cells. */
    readonly onCells?: boolean;
  },
): readonly Part[] {
  const domain = names.slice(0, looks.length);
  const colourScale = { domain, range: looks.slice(0, domain.length).map(({ colour }) => colour) };
  const series = { field: "series", type: "nominal" };
  const order = { field: "x", type: "quantitative" };
  const banded = rows.filter(({ low, high }) => low !== undefined && high !== undefined);
  const legend =
    names.length < 2
      ? null
      : {
          title: null,
          orient: "top",
          direction: "horizontal",
          symbolType: "stroke",
          symbolSize: 250,
          symbolOpacity: 1,
          columns: columnsFor(names),
          offset: 4,
        };
  return [
    ...(banded.length === 0
      ? []
      : [
          {
            data: { values: banded },
            mark: { type: "area", fillOpacity: 0.2, strokeOpacity: 1, strokeWidth: sizes.thin },
            encoding: {
              x: { field: "x", ...x },
              y: { field: "low", ...y },
              y2: { field: "high" },
              color: { ...series, scale: colourScale, legend },
              stroke: { ...series, scale: colourScale, legend },
            },
          },
        ]),
    ...(onCells ? domain.map((name, at) => edgeLayer(rows, name, looks[at]!.dash, { x, y })) : []),
    {
      data: { values: rows },
      mark: { type: "line", strokeWidth: sizes.line * 1.2, point: markAll },
      encoding: {
        x: { field: "x", ...x },
        y: { field: "y", ...y },
        order,
        color: { ...series, scale: colourScale, legend },
        strokeDash: {
          ...series,
          scale: { domain, range: looks.slice(0, domain.length).map(({ dash }) => dash) },
          legend,
        },
      },
    },
  ];
}

function edgeLayer(
  rows: readonly SeriesRow[],
  name: string,
  dash: readonly number[],
  { x, y }: { readonly x: Part; readonly y: Part },
): Part {
  return {
    data: { values: rows.filter(({ series }) => series === name) },
    mark: {
      type: "line",
      color: halo.color,
      strokeWidth: sizes.line * 1.2 + halo.extraWidth,
      strokeDash: dash,
    },
    encoding: {
      x: { field: "x", ...x },
      y: { field: "y", ...y },
      order: { field: "x", type: "quantitative" },
    },
  };
}

/** As many names beside each other as a single journal column holds. */
function columnsFor(names: readonly string[]): number {
  const longest = Math.max(...names.map(({ length }) => length));
  return Math.max(1, Math.min(names.length, Math.floor(52 / (longest + 7))));
}

/** A thin dotted line across the plot at a stated place of one axis. */
export function referenceLine(axis: "x" | "y", at: number, channel: Part): Part {
  return {
    data: { values: [{ at }] },
    mark: {
      type: "rule",
      color: colours.quiet,
      strokeWidth: sizes.thin,
      strokeDash: dashes.dotted,
    },
    encoding: { [axis]: { field: "at", ...channel } },
  };
}

/** Room on a scale for the marks at its ends, so that none is cut or lies on an axis; in points. */
export const roomForMarks = { padding: 4 } as const;

/** A numeric axis: what, and in which unit. */
export function numericAxis(
  title: string,
  { scale = {}, axis = {} }: { readonly scale?: Part; readonly axis?: Part } = {},
): Part {
  return {
    type: "quantitative",
    scale: { zero: false, nice: true, ...scale },
    axis: { title, ...axis },
  };
}

/** Labels of an axis of shares in percent, as tables and sentences have rates. */
export const percentLabels = { labelExpr: "format(100 * datum.value, '.3~r')" } as const;

/** The axis of a share, 0 to 1, with its labels in percent. */
export function shareAxis(title: string): Part {
  return numericAxis(title, {
    scale: { domain: [0, 1], nice: false },
    axis: { values: [0, 0.2, 0.4, 0.6, 0.8, 1], labelExpr: "round(100 * datum.value)" },
  });
}
