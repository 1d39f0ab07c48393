import { type Audience, shownTables } from "../privacy/index.js";
import { type FigureSpec, shownTo } from "../results/index.js";
import type { BestRule, PlacedRule, RuleFront, RulePoint } from "../rulespace/index.js";
import { figureSpec, type Part } from "./figureSpec.js";
import { leftOutWords } from "./marks/leftOutWords.js";
import { type KindOfRule, kindEncoding, kinds } from "./marks/ruleMarks.js";
import { numericAxis, percentLabels, roomForMarks } from "./marks/seriesLayers.js";
import { colours, columnMm, halo, sizes } from "./theme.js";
import { counted, grouped, quantity, sentence, shareText } from "./words.js";

const wordMark = {
  type: "text",
  align: "left",
  baseline: "top",
  dx: 6,
  dy: 5,
  lineHeight: 8.5,
} as const;

type Drawn = Pick<RulePoint, "table" | "sensitivity" | "specificity">;

/**
 * The front of all joint rules: no other rule has both a higher sensitivity and a higher
 * specificity. The chosen rule, the rules that cannot be told from it (the plateau) and rules from
 * elsewhere have marks of their own, named in the key.
 *
 * For the public (default) rules are drawn whose counts, and whose differences to every other drawn
 * rule, are 0 or at least 11: the chosen one first, then those from elsewhere, the plateau and the
 * rest of the front.
 *
 * `unit` names the unit on the axis, D by default.
 *
 * @param front a result of `paretoFront`
 * @param options `chosen`: a result of `bestRule`; `plateau`: the rules that cannot be told from it,
 *   from `searchRules`; `placed`: rules that are not of the grid, from `placeRules`
 *
 * @example
 * ruleFrontFigure(paretoFront(ruleSpace({ measures: { sphere: [1, 2, 3, 4] }, condition: [0, 0, 1, 1], limits: { sphere: [2, 3] } }))).name // => "rule-front"
 */
export function ruleFrontFigure(
  front: RuleFront,
  options: {
    readonly chosen?: Drawn & Pick<BestRule, "limits">;
    readonly plateau?: readonly Drawn[];
    readonly placed?: readonly (Drawn & Pick<PlacedRule, "name">)[];
    readonly unit?: string;
    readonly row?: string;
    readonly audience?: Audience;
  } = {},
): FigureSpec {
  const { chosen, unit = "D", row = "child" } = options;
  const audience = shownTo(options.audience, front);
  const isChosen = (rule: Drawn) => chosen !== undefined && sameRates(rule, chosen);
  const all = [
    ...(chosen === undefined ? [] : [{ ...chosen, kind: kinds.chosen }]),
    ...(options.placed ?? []).map((rule) => ({ ...rule, kind: rule.name })),
    ...(options.plateau ?? [])
      .filter((rule) => !isChosen(rule))
      .map((rule) => ({ ...rule, kind: kinds.plateau })),
    ...front.points.map((rule) => ({ ...rule, kind: kinds.front })),
  ];
  const maySee = shownTables(
    all.map(({ table }) => table),
    audience,
  );
  const shown = all.filter((_, at) => maySee[at]);
  const of = (kind: string) => shown.filter((rule) => rule.kind === kind);
  const seenChosen = of(kinds.chosen).length > 0 ? chosen : undefined;
  const seenPlaced = (options.placed ?? []).filter(({ name }) => of(name).length > 0);
  const rows = counted(front.n, row, row === "child" ? "children" : `${row}s`);
  const words = chosen === undefined ? "" : ruleWords(chosen.limits, unit);
  const ratesOf = ({ sensitivity, specificity }: Drawn) =>
    `sensitivity ${shareText(sensitivity)}, specificity ${shareText(specificity)}`;
  const rates =
    chosen === undefined
      ? ""
      : `chosen rule (${words}) ${seenChosen ? ratesOf(seenChosen) : "not shown"}`;
  const place = ({ sensitivity, specificity }: Drawn) => ({ x: 1 - specificity, y: sensitivity });
  const places = shown.map(place);
  const x = closeAxis(
    "False-positive rate, 1 − specificity (%)",
    places.map((one) => one.x),
  );
  const y = closeAxis(
    "Sensitivity (%)",
    places.map((one) => one.y),
  );
  const layer = (values: readonly object[], mark: Part, more: Part = {}): Part => ({
    data: { values },
    mark,
    encoding: { x: { field: "x", ...x }, y: { field: "y", ...y }, ...more },
  });
  // the line runs only where no rule of the front is left out between two
  const line = front.points
    .map((rule, order) => ({ ...place(rule), order }))
    .filter(({ order }) => maySee[all.length - front.points.length + order])
    .map((point, at) => ({ ...point, part: String(point.order - at) }));
  const gaps = new Set(line.map(({ part }) => part)).size > 1;
  // the chosen rule on top of the others
  const marks = shown
    .filter(({ kind }) => kind !== kinds.front)
    .map((rule) => ({ ...place(rule), kind: rule.kind }))
    .reverse();
  return figureSpec({
    name: "rule-front",
    title: "The best joint rules",
    caption: [
      `Sensitivity against false-positive rate of the ${counted(front.points.length, "rule")} on the front of ${counted(front.ruleCount, "joint rule")} (${front.criteria.join(", ")}), ${rows}.`,
      seenChosen === undefined
        ? ""
        : `Filled circle: ${rates}, judged on the ${rowsOf(row)} it was chosen on.`,
      of(kinds.plateau).length === 0
        ? ""
        : `Diamonds: ${counted(of(kinds.plateau).length, "other rule")} of the front that cannot be told from it on these ${rowsOf(row)} (plateau); the closest lie beneath its mark.`,
      seenPlaced.length === 0 ? "" : "Black marks: rules from elsewhere, on the same rows.",
      gaps ? "The line is broken where rules of the front are not shown." : "",
      leftOutWords(all.length - shown.length, all.length, "marks"),
    ]
      .filter(Boolean)
      .join(" "),
    alt: sentence(
      `Front of ${grouped(front.ruleCount)} joint rules, n = ${grouped(front.n)}, ${front.points.length} on the front${rates === "" ? "" : `: ${rates}`}${(options.plateau ?? []).length === 0 ? "" : `; ${counted((options.plateau ?? []).length, "rule")} of the front on the plateau${options.plateau!.some(isChosen) ? ", the chosen one among them" : ""}`}${seenPlaced.map((rule) => `; ${rule.name} ${ratesOf(rule)}`).join("")}`,
    ),
    widthMm: columnMm.single,
    heightMm: 84,
    spec: {
      layer: [
        layer(
          line,
          {
            type: "line",
            // a rule reaches no further to the left than its own rate
            interpolate: "step-after",
            color: colours.first,
            strokeWidth: sizes.line,
          },
          {
            order: { field: "order", type: "quantitative" },
            detail: { field: "part", type: "nominal" },
          },
        ),
        layer(line, { type: "point", size: 9, color: colours.first }),
        ...(marks.length === 0
          ? []
          : [
              layer(
                marks,
                { type: "point", size: 44, strokeWidth: 1.2, opacity: 1 },
                kindEncoding([...marks].reverse().map(kindOf)),
              ),
            ]),
        ...(seenChosen === undefined
          ? []
          : [
              layer(
                [place(seenChosen)],
                { ...wordMark, stroke: halo.color, strokeWidth: 3, strokeJoin: "round" },
                { text: { value: words.split("; ") } },
              ),
              layer([place(seenChosen)], wordMark, { text: { value: words.split("; ") } }),
            ]),
      ],
    },
  });
}

/** An axis of rates out to the tenths around those drawn; 0 to 1 where there is none. */
function closeAxis(title: string, values: readonly number[]): Part {
  const domain =
    values.length === 0
      ? [0, 1]
      : [Math.floor(Math.min(...values) * 10), Math.ceil(Math.max(...values) * 10)].map(
          (tenths) => tenths / 10,
        );
  return numericAxis(title, {
    scale: { domain, nice: false, ...roomForMarks },
    axis: percentLabels,
  });
}

const kindOf = ({ kind }: { readonly kind: KindOfRule }) => kind;

function rowsOf(row: string): string {
  return row === "child" ? "children" : `${row}s`;
}

function sameRates(a: Drawn, b: Drawn): boolean {
  return a.sensitivity === b.sensitivity && a.specificity === b.specificity;
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
