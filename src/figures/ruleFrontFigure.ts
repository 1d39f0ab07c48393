import type { FigureSpec } from "../results/index.js";
import type { BestRule } from "../thresholds/bestRule.js";
import type { RuleFront, RulePoint } from "../thresholds/paretoFront.js";
import type { PlacedRule } from "../thresholds/placeRules.js";
import { figureSpec, type Part } from "./figureSpec.js";
import { shareAxis } from "./seriesLayers.js";
import { colours, columnMm, sizes } from "./theme.js";
import { counted, number, quantity, sentence } from "./words.js";

/**
 * The front of all joint rules: no other rule has both a higher sensitivity and a higher
 * specificity. The chosen rule is marked, and the rules that cannot be told from it (the plateau)
 * are drawn larger; rules from elsewhere have marks of their own.
 *
 * @param front a result of `paretoFront`
 * @param options `chosen`: a result of `bestRule`; `plateau`: the rules that cannot be told from it;
 *   `placed`: rules that are not of the grid, from `placeRules`
 *
 * @example
 * ruleFrontFigure(paretoFront(ruleSpace({ measures: { sphere: [1, 2, 3, 4] }, condition: [0, 0, 1, 1], limits: { sphere: [2, 3] } }))).name // => "rule-front"
 */
export function ruleFrontFigure(
  front: RuleFront,
  options: {
    readonly chosen?: Pick<BestRule, "limits" | "sensitivity" | "specificity">;
    readonly plateau?: readonly Pick<RulePoint, "sensitivity" | "specificity">[];
    readonly placed?: readonly Pick<PlacedRule, "name" | "sensitivity" | "specificity">[];
    readonly unit?: string;
    readonly row?: string;
  } = {},
): FigureSpec {
  const { chosen, plateau = [], placed = [], unit = "D", row = "child" } = options;
  const x = shareAxis("False-positive rate, 1 − specificity (proportion)");
  const y = shareAxis("Sensitivity (proportion)");
  const at = ({ sensitivity, specificity }: Pick<RulePoint, "sensitivity" | "specificity">) => ({
    x: 1 - specificity,
    y: sensitivity,
  });
  const layer = (values: readonly object[], mark: Part, more: Part = {}): Part => ({
    data: { values },
    mark,
    encoding: { x: { field: "x", ...x }, y: { field: "y", ...y }, ...more },
  });
  const words = chosen === undefined ? "" : ruleWords(chosen.limits, unit);
  const rates =
    chosen === undefined
      ? ""
      : `chosen rule (${words}) sensitivity ${number(chosen.sensitivity, 3)}, specificity ${number(chosen.specificity, 3)}`;
  return figureSpec({
    name: "rule-front",
    title: "The best joint rules",
    caption: [
      `Sensitivity against false-positive rate of the ${counted(front.points.length, "rule")} on the front of ${counted(front.rules, "joint rule")} (${front.criteria.join(", ")}), ${counted(front.n, row, row === "child" ? "children" : `${row}s`)}.`,
      chosen === undefined ? "" : `Circle: ${rates}, judged on the children it was chosen on.`,
      plateau.length === 0 ? "" : "Wide marks: rules that cannot be told from it.",
      placed.length === 0 ? "" : "Black marks: rules from elsewhere, on the same rows.",
    ]
      .filter(Boolean)
      .join(" "),
    alt: sentence(
      `Front of ${front.rules} joint rules, n = ${front.n}, ${front.points.length} on the front${rates === "" ? "" : `: ${rates}`}${placed.map((rule) => `; ${rule.name} sensitivity ${number(rule.sensitivity, 3)}, specificity ${number(rule.specificity, 3)}`).join("")}`,
    ),
    widthMm: columnMm.single,
    heightMm: 84,
    spec: {
      layer: [
        layer(plateau.map(at), { type: "point", size: 60, color: colours.secondBand }),
        layer(
          front.points.map((point, order) => ({ ...at(point), order })),
          {
            type: "line",
            interpolate: "step-before",
            color: colours.first,
            strokeWidth: sizes.line,
          },
          { order: { field: "order", type: "quantitative" } },
        ),
        layer(front.points.map(at), { type: "point", size: 8, color: colours.first }),
        ...(chosen === undefined
          ? []
          : [
              layer([at(chosen)], { type: "point", size: 40, color: colours.second }),
              layer(
                [at(chosen)],
                { type: "text", align: "left", baseline: "top", dx: 5, dy: 4, lineHeight: 8.5 },
                { text: { value: words.split("; ") } },
              ),
            ]),
        ...(placed.length === 0
          ? []
          : [
              layer(
                placed.map((rule) => ({ ...at(rule), name: rule.name })),
                { type: "point", size: 45, strokeWidth: 1.3, color: colours.ink, opacity: 1 },
                {
                  shape: {
                    field: "name",
                    type: "nominal",
                    sort: null,
                    scale: {
                      range: ["cross", "triangle-up", "diamond", "square", "triangle-down"],
                    },
                    legend: { title: null, orient: "bottom-right", symbolStrokeColor: colours.ink },
                  },
                },
              ),
            ]),
      ],
    },
  });
}

/** "sphere ≥ 1.50 D; cylinder off". */
function ruleWords(limits: RulePoint["limits"], unit: string): string {
  return Object.entries(limits)
    .map(([name, limit]) =>
      limit === null || limit === Number.POSITIVE_INFINITY
        ? `${name} off`
        : `${name} ≥ ${quantity(limit, unit)}`,
    )
    .join("; ");
}
