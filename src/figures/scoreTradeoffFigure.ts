import { type Audience, shownTogether } from "../privacy/index.js";
import {
  type Estimate,
  type FigureSpec,
  shownTo,
  type TwoByTwo,
  type Undefined,
} from "../results/index.js";
import type { ScoreStep, ScoreTradeoff } from "../thresholds/index.js";
import { figureSpec } from "./figureSpec.js";
import { leftOutWords } from "./marks/leftOutWords.js";
import { numericAxis, type SeriesRow, seriesLayers, shareAxis } from "./marks/seriesLayers.js";
import { columnMm } from "./theme.js";
import {
  counted,
  grouped,
  intervalsOf,
  number,
  percentWords,
  sentence,
  shareText,
} from "./words.js";

const lost = "children lost";
const rates = [
  ["sensitivity", "truePositive", "falseNegative"],
  ["specificity", "trueNegative", "falsePositive"],
] as const satisfies readonly (readonly [string, keyof TwoByTwo, keyof TwoByTwo])[];

type Rate = (typeof rates)[number][0];

/**
 * What a limit on the instrument's confidence score buys and costs: sensitivity and specificity of
 * the readings kept, with their intervals, and the share of children of whom no reading is left.
 *
 * For the public (default) a point is drawn only where the counts behind it, and their differences
 * to those of every other point, are 0 or at least 11.
 *
 * @param tradeoff a result of `scoreTradeoff`
 *
 * @example
 * const tradeoff = scoreTradeoff({ test: [-4, -3, -1, 0, 1, 2], reference: [-4, -3.5, -1, 0.5, 1, 2.5], confidenceScore: [9, 5, 9, 9, 5, 9], condition: [1, 1, 0, 0, 0, 0] }, { betterWhen: "high", positiveWhen: "low", cutOff: -3 });
 * scoreTradeoffFigure(tradeoff).name // => "score-trade-off"
 */
export function scoreTradeoffFigure(
  tradeoff: ScoreTradeoff,
  options: { readonly audience?: Audience } = {},
): FigureSpec {
  const audience = shownTo(options.audience, tradeoff);
  const limited = tradeoff.steps.filter(({ scoreLimit }) => scoreLimit !== null);
  const lines = [
    ...rates.map(([name, right, wrong]) => {
      const defined = limited.filter((step) => measure(step, name).kind === "estimate");
      const counts = (step: ScoreStep) => [right, wrong].map((cell) => tableOf(step)?.[cell] ?? 0);
      const steps = seen(defined, counts, counts(tradeoff.steps[0]!), audience);
      return { name, steps, of: defined.length };
    }),
    {
      name: lost,
      steps: seen(limited, ({ childrenLost }) => [childrenLost], [tradeoff.subjects], audience),
      of: limited.length,
    },
  ];
  const rows = lines.flatMap(({ name, steps }) => steps.map((step) => rowOf(name, step)));
  const said = lines.flatMap(({ name, steps }) => {
    const last = steps.at(-1);
    if (last === undefined) return [];
    const rate =
      name === lost
        ? shareText(last.shareOfChildrenLost)
        : percentWords(measure(last, name as Rate));
    return [`${name} ${rate} at limit ${number(last.scoreLimit!, 0)}`];
  });
  const total = lines.reduce((sum, { of }) => sum + of, 0);
  const better = tradeoff.betterWhen === "high" ? "at least" : "at most";
  return figureSpec({
    name: "score-trade-off",
    title: "What a limit on the confidence score buys and costs",
    caption: [
      `Sensitivity and specificity of the readings kept, with ${intervalsOf(limited.map((step) => measure(step, "sensitivity")))} as bands, and share of children of whom none is left, when the confidence score has to be ${better} the limit; ${counted(tradeoff.n, "reading")} of ${counted(tradeoff.subjects, "child", "children")}.`,
      "A child without a reading is not a pass.",
      leftOutWords(total - rows.length, total, "points"),
    ]
      .filter(Boolean)
      .join(" "),
    alt: sentence(
      `Limit on the confidence score, n = ${grouped(tradeoff.n)}${said.length === 0 ? "" : `, at the strictest limit shown: ${said.join("; ")}`}`,
    ),
    widthMm: columnMm.single,
    heightMm: 72,
    isEmpty: rows.length === 0,
    spec: {
      layer: seriesLayers(
        rows,
        lines.map(({ name }) => name),
        {
          x: numericAxis(`Confidence score, ${better} (instrument’s units)`),
          y: shareAxis("Rate (%)"),
        },
      ),
    },
  });
}

/** The steps whose counts the audience may see together. */
function seen(
  steps: readonly ScoreStep[],
  countsOf: (step: ScoreStep) => readonly number[],
  totals: readonly number[],
  audience: Audience,
): readonly ScoreStep[] {
  if (audience === "journal") return steps;
  const shown = shownTogether(steps.map(countsOf), totals);
  return steps.filter((_, at) => shown[at]);
}

function rowOf(name: string, step: ScoreStep): SeriesRow {
  const at = { series: name, x: step.scoreLimit! };
  if (name === lost) return { ...at, y: step.shareOfChildrenLost };
  const { value, low, high } = measure(step, name as Rate) as Estimate;
  return { ...at, y: value, low, high };
}

function tableOf({ accuracy }: ScoreStep): TwoByTwo | undefined {
  return accuracy.kind === "undefined" ? undefined : accuracy.accuracy.table;
}

function measure({ accuracy }: ScoreStep, name: Rate): Estimate | Undefined {
  return accuracy.kind === "undefined" ? accuracy : accuracy.accuracy[name];
}
