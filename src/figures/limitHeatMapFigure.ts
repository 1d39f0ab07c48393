import {
  type Audience,
  bandOf,
  mayShow,
  publicBands,
  type ShareBand,
  smallestCount,
} from "../privacy/index.js";
import { type FigureSpec, InputError, shownTo, type TwoByTwo } from "../results/index.js";
import type { RuleSpace } from "../rulespace/index.js";
import { ruleAt, rulePoint } from "../rulespace/index.js";
import { figureSpec } from "./figureSpec.js";
import { bandLegend, domainOf, gradientLegend } from "./marks/rateBands.js";
import { colours, columnMm, halo, ramp, sizes } from "./theme.js";
import { counted, grouped, number, quantity, sentence, shareText } from "./words.js";

/** Which counts a rate is made of: who has it, and the rest of its whole. */
const parts = {
  sensitivity: ["truePositive", "falseNegative"],
  specificity: ["trueNegative", "falsePositive"],
} as const satisfies { readonly [rate: string]: readonly [keyof TwoByTwo, keyof TwoByTwo] };

/**
 * Sensitivity or specificity of every pair of limits of a rule of two criteria; the chosen pair is
 * framed.
 *
 * For the public (default) rates are shaded in bands that are at least 11 children wide, because
 * exact rates of neighbouring pairs would give back how many children lie between them.
 *
 * `unit` names the unit on the axis, D by default.
 *
 * @param space a result of `ruleSpace` with two criteria
 * @throws when the space has not two criteria, nobody is behind a rate, or for the public fewer than
 *   22 children
 *
 * @example
 * limitHeatMapFigure(ruleSpace({ measures: { sphere: [1, 2, 3, 4], cylinder: [0, 2, 1, 3] }, condition: [0, 0, 1, 1], limits: { sphere: [2, 3], cylinder: [1, 2] } }), { audience: "journal" }).name // => "limit-heat-map-sensitivity"
 */
export function limitHeatMapFigure(
  space: RuleSpace,
  options: {
    readonly show?: "sensitivity" | "specificity";
    readonly chosen?: { readonly [criterion: string]: number | null };
    readonly unit?: string;
    readonly row?: string;
    readonly audience?: Audience;
  } = {},
): FigureSpec {
  const { show = "sensitivity", chosen, unit = "D", row = "child" } = options;
  const audience = shownTo(options.audience, space);
  const [across, up, ...others] = space.criteria;
  if (across === undefined || up === undefined || others.length > 0) {
    throw new InputError(`limitHeatMapFigure requires two criteria, got ${space.criteria.length}`);
  }
  const rowsName = row === "child" ? "children" : `${row}s`;
  const [part, rest] = parts[show];
  const rules = space.limits[across]!.flatMap((x) =>
    space.limits[up]!.map((y) => {
      const limits = { [across]: x, [up]: y };
      return { x, y, ...rulePoint(limits, ruleAt(space, limits)) };
    }),
  );
  const fewestOf = ([one, other]: (typeof parts)[typeof show]) =>
    Math.min(...rules.map(({ table }) => table[one] + table[other]));
  const fewest = fewestOf(parts[show]);
  if (!(fewest > 0)) {
    throw new InputError(`limitHeatMapFigure requires ${rowsName} behind every ${show}, got none`);
  }
  const sibling = show === "sensitivity" ? "specificity" : "sensitivity";
  const behindBoth = Math.min(fewest, fewestOf(parts[sibling]));
  // both maps of a space are shaded alike: one scale from the least to the most of either
  const bands =
    audience === "journal"
      ? null
      : publicBands(
          "limitHeatMapFigure",
          behindBoth < 2 * smallestCount ? fewest : behindBoth,
          rowsName,
        );
  const all = rules.map(({ x, y, table, [show]: rate }) => {
    const band = bands === null ? undefined : bandOf(bands, rate);
    return {
      x: nameOf(x),
      y: nameOf(y),
      rate: band === undefined ? Number(rate.toFixed(4)) : (band.low + band.high) / 2,
      band,
      ...(mayShow([table[part], table[rest]], audience) ? { exact: rate } : {}),
    };
  });
  const cells = all.map(({ x, y, rate }) => ({ x, y, rate }));
  const framed =
    chosen === undefined
      ? []
      : all.filter(
          ({ x, y }) => x === nameOf(chosen[across] ?? null) && y === nameOf(chosen[up] ?? null),
        );
  const said = framed.map(({ x, y, band, exact }) => {
    const rate =
      exact === undefined
        ? `between ${number(band!.low)} and ${number(band!.high)}`
        : number(exact, 3);
    return `; ${show} ${rate} at ${across} ${x} and ${up} ${y}`;
  });
  const own = all.map(({ rate }) => rate);
  const either = rules.flatMap(({ sensitivity, specificity }) => [sensitivity, specificity]);
  const ends = endsOf(bands, own);
  const scaleEnds = endsOf(
    bands,
    either.filter((rate) => Number.isFinite(rate)),
  );
  const used =
    bands?.filter(({ low, high }) => low >= scaleEnds[0] && high <= scaleEnds[1]) ?? null;
  const axis = (field: string, criterion: string) => ({
    field,
    type: "nominal",
    sort: null,
    axis: {
      title: `${sentence(criterion).slice(0, -1)}, refer at ≥ (${unit})`,
      labelAngle: 0,
      labelOverlap: true,
      domain: false,
    },
  });
  const x = axis("x", across);
  const y = { ...axis("y", up), sort: space.limits[up]!.map(nameOf).reverse() };
  const n = counted(space.n, row, rowsName);
  const withUnit = (name: string) =>
    name === "off" ? name : quantity(Number(name.replace("−", "-")), unit);
  return figureSpec({
    name: `limit-heat-map-${show}`,
    title: `${sentence(show).slice(0, -1)} of every pair of limits`,
    caption: [
      `${sentence(show).slice(0, -1)} of the rule “refer when ${across} or ${up} is at or above its limit”, ${n}.`,
      framed.length === 0
        ? ""
        : `Frame: ${framed.map((one) => `${across} ${withUnit(one.x)}, ${up} ${withUnit(one.y)}`).join("; ")}.`,
      bands === null
        ? ""
        : `Shaded in bands, alike for sensitivity and specificity, each at least ${smallestCount} ${rowsName} wide.`,
    ]
      .filter(Boolean)
      .join(" "),
    alt: `${sentence(show).slice(0, -1)} of ${cells.length} pairs of limits, n = ${grouped(space.n)}: from ${shareText(ends[0]!)} to ${shareText(ends[1]!)}${said.join("")}.`,
    widthMm: columnMm.single,
    heightMm: 78,
    spec: {
      layer: [
        {
          data: { values: cells },
          mark: { type: "rect", stroke: colours.quiet, strokeWidth: 0.3 },
          encoding: {
            x,
            y,
            color: {
              field: "rate",
              type: "quantitative",
              scale: { range: ramp, zero: false, domain: used ? domainOf(used) : scaleEnds },
              legend: used ? bandLegend(used, show) : gradientLegend(scaleEnds, show),
            },
          },
        },
        ...[
          { stroke: halo.color, strokeWidth: sizes.line * 2 + 2 * halo.extraWidth },
          { stroke: colours.second, strokeWidth: sizes.line * 2 },
        ].map((look) => ({
          data: { values: framed.map(({ x, y }) => ({ x, y })) },
          mark: { type: "rect", filled: false, ...look },
          encoding: { x, y },
        })),
      ],
    },
  });
}

/** The least and the most of the rates, as the edges of their bands where there are any. */
function endsOf(
  bands: readonly ShareBand[] | null,
  rates: readonly number[],
): readonly [number, number] {
  const [least, most] = [Math.min(...rates), Math.max(...rates)];
  if (bands === null) return [Number(least.toFixed(4)), Number(most.toFixed(4))];
  return [bandOf(bands, least).low, bandOf(bands, most).high];
}

function nameOf(limit: number | null): string {
  return limit === null || limit === Number.POSITIVE_INFINITY ? "off" : number(limit);
}
