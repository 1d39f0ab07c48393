import type { FigureSpec } from "../results/index.js";
import type { RangeOfLimit, RuleSearch } from "../rulespace/index.js";
import { figureSpec } from "./figureSpec.js";
import { intervalMarks, rangeBar } from "./marks/intervalMarks.js";
import { numericAxis, roomForMarks } from "./marks/seriesLayers.js";
import { colours, columnMm } from "./theme.js";
import { counted, grouped, number, sentence } from "./words.js";

/**
 * How far each limit of a searched rule can be moved before the rule can be told from the chosen one:
 * the dark bar moves one limit alone, the light bar spans all rules of the plateau. A bar that ends
 * in "off" runs to where the criterion is not used at all.
 *
 * `unit` names the unit on the axis, D by default.
 *
 * @param search a result of `searchRules`
 *
 * @example
 * limitRangesFigure(await searchRules({ measures: { sphere: [1, 2, 3, 4, 5, 6, 7, 8] }, condition: [0, 0, 0, 1, 0, 1, 1, 1], limits: { sphere: [2, 4, 6] } }, { folds: 4, repeats: 1, replicates: 50, seed: 1 })).name // => "limit-ranges"
 */
export function limitRangesFigure(
  search: Pick<RuleSearch, "n" | "criteria" | "limits" | "plateau">,
  options: { readonly unit?: string; readonly row?: string } = {},
): FigureSpec {
  const { unit = "D", row = "child" } = options;
  const { criteria, limits, plateau, n } = search;
  const all = criteria.flatMap((criterion) => [
    ...ends(plateau.ranges[criterion]!),
    ...ends(plateau.alone[criterion]!),
    limits[criterion] ?? null,
  ]);
  const finite = all.flatMap((limit) => (limit === null ? [] : [limit]));
  const [least, most] = [Math.min(...finite), Math.max(...finite)];
  const beyond = all.includes(null) ? most + Math.max(0.5, (most - least) / 8) : most;
  const place = (limit: number | null) => limit ?? beyond;
  const word = (limit: number | null) => (limit === null ? "off" : number(limit));
  const rows = criteria.map((criterion, order) => {
    const [wide, own] = [plateau.ranges[criterion]!, plateau.alone[criterion]!];
    return {
      label: sentence(criterion).slice(0, -1),
      order,
      wideLow: place(wide.lowest),
      wideHigh: place(wide.highest),
      low: place(own.lowest),
      high: place(own.highest),
      value: place(limits[criterion] ?? null),
      text: `${word(limits[criterion] ?? null)} (${word(own.lowest)} to ${word(own.highest)})`,
    };
  });
  const y = {
    field: "label",
    type: "nominal",
    sort: { field: "order" },
    axis: { title: null, domain: false, ticks: false, labelPadding: 6 },
  };
  const x = numericAxis(`Limit, refer at ≥ (${unit})`, { scale: roomForMarks });
  const count = counted(n, row, row === "child" ? "children" : `${row}s`);
  return figureSpec({
    name: "limit-ranges",
    title: "How far each limit can be moved",
    caption: `Limits of the searched rule (square), ${count}. Line with ends and numbers: one limit moved alone; wide bar: all ${counted(plateau.rules.length, "rule")} of the front that cannot be told from the chosen one (simultaneous level ${number(plateau.level)}); not every combination within the bars is one of them.`,
    alt: sentence(
      `Limits of the searched rule, n = ${grouped(n)}: ${rows.map(({ label, text }) => `${label} ${text}`).join("; ")}`,
    ),
    widthMm: columnMm.oneAndHalf,
    heightMm: 18 + 9 * rows.length,
    spec: {
      layer: [
        rangeBar(rows, { x, y, low: "wideLow", high: "wideHigh" }),
        ...intervalMarks(rows, { x, y }),
        {
          data: { values: rows },
          mark: {
            type: "point",
            shape: "square",
            filled: true,
            size: 24,
            color: colours.second,
            opacity: 1,
          },
          encoding: { y, x: { field: "value", ...x } },
        },
        {
          data: { values: rows },
          mark: { type: "text", align: "left", baseline: "middle", dx: 6 },
          encoding: { y, x: { value: "width" }, text: { field: "text" } },
        },
      ],
    },
  });
}

function ends({ lowest, highest }: RangeOfLimit): (number | null)[] {
  return [lowest, highest];
}
