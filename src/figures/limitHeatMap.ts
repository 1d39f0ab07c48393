import { type FigureSpec, InputError } from "../results/index.js";
import { ruleAt } from "../thresholds/ruleAt.js";
import type { RuleSpace } from "../thresholds/ruleSpace.js";
import { figureSpec } from "./figureSpec.js";
import { colours, columnMm, ramp, sizes } from "./theme.js";
import { counted, number, quantity, sentence } from "./words.js";

/**
 * Sensitivity or specificity of every pair of limits of a rule of two criteria; the chosen pair is
 * framed.
 *
 * @param space a result of `ruleSpace` with two criteria
 * @throws when the space has not two criteria
 *
 * @example
 * limitHeatMap(ruleSpace({ measures: { sphere: [1, 2, 3, 4], cylinder: [0, 2, 1, 3] }, condition: [0, 0, 1, 1], limits: { sphere: [2, 3], cylinder: [1, 2] } })).name // => "limit-heat-map-sensitivity"
 */
export function limitHeatMap(
  space: RuleSpace,
  options: {
    readonly show?: "sensitivity" | "specificity";
    readonly chosen?: { readonly [criterion: string]: number | null };
    readonly unit?: string;
    readonly row?: string;
  } = {},
): FigureSpec {
  const { show = "sensitivity", chosen, unit = "D", row = "child" } = options;
  const [across, up, ...others] = space.criteria;
  if (across === undefined || up === undefined || others.length > 0) {
    throw new InputError(`limitHeatMap requires two criteria, got ${space.criteria.length}`);
  }
  const name = (limit: number | null) =>
    limit === null || limit === Number.POSITIVE_INFINITY ? "off" : number(limit);
  const cells = space.limits[across]!.flatMap((x) =>
    space.limits[up]!.map((y) => {
      const table = ruleAt(space, { [across]: x, [up]: y });
      const { truePositive, falseNegative, falsePositive, trueNegative } = table;
      const rate =
        show === "sensitivity"
          ? truePositive / (truePositive + falseNegative)
          : trueNegative / (trueNegative + falsePositive);
      return { x: name(x), y: name(y), rate: Number(rate.toFixed(4)) };
    }),
  );
  const rates = cells.map(({ rate }) => rate);
  const [least, most] = [Math.min(...rates), Math.max(...rates)];
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
  const framed =
    chosen === undefined
      ? []
      : cells.filter(
          ({ x, y }) => x === name(chosen[across] ?? null) && y === name(chosen[up] ?? null),
        );
  const said = framed.map(
    ({ x, y, rate }) => `; ${show} ${number(rate, 3)} at ${across} ${x} and ${up} ${y}`,
  );
  const n = counted(space.n, row, row === "child" ? "children" : `${row}s`);
  return figureSpec({
    name: `limit-heat-map-${show}`,
    title: `${sentence(show).slice(0, -1)} of every pair of limits`,
    caption: `${sentence(show).slice(0, -1)} of the rule “refer when ${across} or ${up} is at or above its limit”, ${n}.${framed.length === 0 ? "" : ` Frame: ${framed.map(({ x, y }) => `${quantity(Number(x.replace("−", "-")), unit)} and ${quantity(Number(y.replace("−", "-")), unit)}`).join("")}.`}`,
    alt: `${sentence(show).slice(0, -1)} of ${cells.length} pairs of limits, n = ${space.n}: from ${number(least, 3)} to ${number(most, 3)}${said.join("")}.`,
    widthMm: columnMm.single,
    heightMm: 78,
    spec: {
      layer: [
        {
          data: { values: cells },
          mark: { type: "rect", stroke: "#ffffff", strokeWidth: 0.5 },
          encoding: {
            x: axis("x", across),
            y: { ...axis("y", up), sort: space.limits[up]!.map(name).reverse() },
            color: {
              field: "rate",
              type: "quantitative",
              scale: { range: ramp, zero: false },
              legend: {
                title: show,
                orient: "top",
                direction: "horizontal",
                titleOrient: "left",
                gradientLength: 90,
                gradientThickness: 6,
                offset: 4,
                format: ".2f",
                values: least === most ? [least] : [least, most],
              },
            },
          },
        },
        {
          data: { values: framed },
          mark: {
            type: "rect",
            filled: false,
            stroke: colours.second,
            strokeWidth: sizes.line * 2,
          },
          encoding: {
            x: axis("x", across),
            y: { ...axis("y", up), sort: space.limits[up]!.map(name).reverse() },
          },
        },
      ],
    },
  });
}
