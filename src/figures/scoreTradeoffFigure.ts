import type { Estimate, FigureSpec, Undefined } from "../results/index.js";
import type { ScoreStep, ScoreTradeoff } from "../thresholds/scoreTradeoff.js";
import { figureSpec } from "./figureSpec.js";
import { type Audience, smallestCell } from "./points.js";
import { numericAxis, type SeriesRow, seriesLayers, shareAxis } from "./seriesLayers.js";
import { columnMm } from "./theme.js";
import { counted, estimateWords, number, sentence } from "./words.js";

const names = ["sensitivity", "specificity", "children lost"] as const;

/**
 * What a limit on the instrument's confidence score buys and costs: sensitivity and specificity of
 * the readings kept, with their intervals, and the share of children of whom no reading is left.
 *
 * For the public (default) limits that lose or keep fewer than 11 children more than the one before
 * are not drawn.
 *
 * @param tradeoff a result of `scoreTradeoff`
 *
 * @example
 * const tradeoff = scoreTradeoff({ test: [-4, -3, -1, 0, 1, 2], reference: [-4, -3.5, -1, 0.5, 1, 2.5], confidenceScore: [9, 5, 9, 9, 5, 9], condition: [1, 1, 0, 0, 0, 0] }, { betterWhen: "high", positiveWhen: "low", cutOff: -3 });
 * scoreTradeoffFigure(tradeoff).name // => "score-trade-off"
 */
export function scoreTradeoffFigure(
  tradeoff: ScoreTradeoff,
  { audience = "public" }: { readonly audience?: Audience } = {},
): FigureSpec {
  const steps = audience === "journal" ? tradeoff.steps : farApart(tradeoff);
  const rows = steps.flatMap((step) =>
    step.scoreLimit === null
      ? []
      : [
          ...rate(names[0], step.scoreLimit, measure(step, "sensitivity")),
          ...rate(names[1], step.scoreLimit, measure(step, "specificity")),
          { series: names[2], x: step.scoreLimit, y: step.shareOfChildrenLost },
        ],
  );
  const last = steps.at(-1);
  const said =
    last === undefined || last.scoreLimit === null
      ? ""
      : `at the strictest limit ${number(last.scoreLimit, 0)} sensitivity ${estimateWords(measure(last, "sensitivity"))}, specificity ${estimateWords(measure(last, "specificity"))}, ${number(last.shareOfChildrenLost)} of children lost`;
  const better = tradeoff.betterWhen === "high" ? "at least" : "at most";
  return figureSpec({
    name: "score-trade-off",
    title: "What a limit on the confidence score buys and costs",
    caption: `Sensitivity and specificity of the readings kept, with intervals, and share of children of whom none is left, when the confidence score has to be ${better} the limit; ${counted(tradeoff.n, "reading")} of ${counted(tradeoff.subjects, "child", "children")}. A child without a reading is not a pass.${audience === "journal" ? "" : ` Limits are at least ${smallestCell} children apart.`}`,
    alt: sentence(
      `Limit on the confidence score, n = ${tradeoff.n}${said === "" ? "" : `: ${said}`}`,
    ),
    widthMm: columnMm.single,
    heightMm: 72,
    spec: {
      layer: seriesLayers(rows, names, {
        x: numericAxis(`Confidence score, ${better} (instrument’s units)`),
        y: shareAxis("Rate (proportion)"),
      }),
    },
  });
}

function measure(
  { accuracy }: ScoreStep,
  name: "sensitivity" | "specificity",
): Estimate | Undefined {
  return accuracy.kind === "undefined" ? accuracy : accuracy.accuracy[name];
}

function rate(series: string, x: number, estimate: Estimate | Undefined): SeriesRow[] {
  if (estimate.kind === "undefined") return [];
  const { value, low, high } = estimate;
  return [{ series, x, y: value, low, high }];
}

function farApart({ steps, subjects }: ScoreTradeoff): readonly ScoreStep[] {
  let last = 0;
  return steps.filter(({ childrenLost }) => {
    const far = childrenLost === last || childrenLost - last >= smallestCell;
    if (!far || subjects - childrenLost < smallestCell) return false;
    last = childrenLost;
    return true;
  });
}
