import type { StudyPlan } from "../planning/index.js";
import { type Estimate, type FigureSpec, methodName, type Undefined } from "../results/index.js";
import { figureSpec } from "./figureSpec.js";
import {
  numericAxis,
  percentLabels,
  referenceLine,
  roomForMarks,
  type SeriesRow,
  seriesLayers,
  shareAxis,
} from "./marks/seriesLayers.js";
import { columnMm } from "./theme.js";
import { grouped, number, percent } from "./words.js";

/**
 * What a study gives for its size: power, or the expected value with its interval, against the
 * number of children; dotted lines at the planned number and at the wanted power.
 *
 * Rates and power are in percent, areas from 0 to 1; limits of agreement are in the plan's unit.
 *
 * @param plan a result of `planAccuracyStudy`, `planAgreementStudy` or `planAreaStudy`
 * @param options `unit`: of limits of agreement, "D" by default
 *
 * @example
 * planFigure(planAgreementStudy({ expected: { sd: 0.5 }, aim: { within: 1.2, power: 0.9 } })).name // => "study-size"
 */
export function planFigure(plan: StudyPlan, options: { readonly unit?: string } = {}): FigureSpec {
  const { unit = "D" } = options;
  const rows = seriesOf(plan);
  const names = [...new Set(rows.map(({ series }) => series))];
  const asksPower = plan.wantedPower !== null;
  const verb = plan.kind === "accuracy-plan" ? "screened" : "enrolled";
  const x = numericAxis(`Children ${verb} (n)`, {
    axis: { format: ",d", tickCount: 5 },
    scale: roomForMarks,
  });
  const y = asksPower
    ? shareAxis("Power (%)")
    : plan.kind !== "agreement-plan"
      ? plan.kind === "accuracy-plan"
        ? numericAxis("Expected rate with its interval (%)", { axis: percentLabels })
        : numericAxis("Expected area with its interval (proportion)")
      : numericAxis(
          plan.aim === "repeats"
            ? `Within-subject SD (${unit})`
            : `Expected limit with its interval (${unit})`,
        );
  const sized = typeof plan.n === "number" ? grouped(plan.n) : null;
  const answer = sized === null ? "no number is planned" : `n = ${sized} planned`;
  const wanted = plan.wantedPower === null ? "" : `; wanted power ${percent(plan.wantedPower)}`;
  const level = asksPower
    ? `Points: computed sizes; intervals of ${percent(plan.level)} (${methodName(plan.method)}) decide.`
    : `Bands: the ${percent(plan.level)} interval (${methodName(plan.method)}) of a study that finds exactly the expected.`;
  return figureSpec({
    name: "study-size",
    title: asksPower ? "Power for the size of the study" : "Precision for the size of the study",
    caption: `${asksPower ? "Power" : "Expected precision"} against the number of children ${verb}, ${answer}${wanted}. ${level}`,
    alt: `${asksPower ? "Power" : "Expected precision"} against the number of children ${verb}, ${answer}: ${said(plan, rows)}.`,
    widthMm: columnMm.single,
    heightMm: 72,
    spec: {
      layer: [
        ...seriesLayers(rows, names, { x, y, markAll: true }),
        ...(typeof plan.n === "number" ? [referenceLine("x", plan.n, x)] : []),
        ...(plan.wantedPower === null ? [] : [referenceLine("y", plan.wantedPower, y)]),
      ],
    },
    isEmpty: rows.length === 0,
  });
}

function seriesOf(plan: StudyPlan): readonly SeriesRow[] {
  if (plan.wantedPower !== null) {
    return plan.table.flatMap(({ n, power }) =>
      power === null ? [] : [{ series: "power", x: n, y: power }],
    );
  }
  const row = (series: string, n: number, part: Estimate | Undefined | null): SeriesRow[] =>
    part?.kind === "estimate"
      ? [{ series, x: n, y: part.value, low: part.low, high: part.high }]
      : [];
  if (plan.kind === "area-plan") return plan.table.flatMap((at) => row("area", at.n, at.area));
  if (plan.kind === "accuracy-plan") {
    return plan.table.flatMap((at) => [
      ...row("sensitivity", at.n, at.sensitivity),
      ...row("specificity", at.n, at.specificity),
    ]);
  }
  return plan.table.flatMap((at) => [
    ...row("lower limit", at.n, at.lower),
    ...row("upper limit", at.n, at.upper),
    ...row("within-subject SD", at.n, at.withinSd),
  ]);
}

/** What stands at the planned number, or at the largest one where none is planned. */
function said(plan: StudyPlan, rows: readonly SeriesRow[]): string {
  const at = typeof plan.n === "number" ? plan.n : rows.at(-1)?.x;
  const parts = rows
    .filter(({ x }) => x === at)
    .map(({ series, y, low, high }) =>
      low === undefined || high === undefined
        ? `${series} ${number(y, 3)}`
        : `${series} ${number(y, 3)} (${percent(plan.level)} interval ${number(low, 3)} to ${number(high, 3)})`,
    );
  return parts.length === 0 ? "nothing is drawn at it" : `at ${at} children ${parts.join(", ")}`;
}
