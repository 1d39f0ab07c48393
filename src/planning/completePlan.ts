import { caution, type Undefined, undefinedBecause } from "../results/index.js";
import { percent } from "../rows/index.js";
import { accuracyAssumptions } from "./accuracyAssumptions.js";
import type {
  AccuracyNeed,
  AccuracyPlan,
  AccuracyPlanRow,
  PlannedMeasure,
  Wanted,
} from "./accuracyPlan.js";
import { expectedInterval, halfWidthOf } from "./expectedInterval.js";
import { type Goal, rowsForGoal } from "./goalPower.js";
import { chanceOfRows, jointGoals } from "./jointGoals.js";
import { nobodyIsEnough, tableSizes } from "./shared.js";
import { siteEffect } from "./siteEffect.js";
import { smallestEnough, smallestStaying } from "./smallestStaying.js";
import type { AccuracyStudy } from "./studies.js";

/** Every child with a usable reading is examined. */
export function completePlan(study: AccuracyStudy, wanted: Wanted): AccuracyPlan {
  const { expected, aim, interval = "wilson", level = 0.95, lost = 0, assurance } = study;
  const { prevalence } = expected;
  const eyes = study.eyes ?? { perChild: 1, correlation: 0 };
  const designEffect = 1 + (eyes.perChild - 1) * eyes.correlation;
  const perChild = eyes.perChild / designEffect;
  const shareWith = { sensitivity: prevalence, specificity: 1 - prevalence };
  const effectOf = (measure: PlannedMeasure, children: number) =>
    designEffect *
    (study.sites === undefined
      ? 1
      : siteEffect(study.sites, {
          children,
          level,
          rowsPerChild: eyes.perChild * (1 - lost) * shareWith[measure],
        }));
  const goals = aim !== undefined && "minimum" in aim;
  const goalOf = ({ measure, value }: Wanted[number]): Goal => ({
    expected: expected[measure],
    minimum: value,
    interval,
    level,
  });
  const halfWidthAt = (measure: PlannedMeasure, rows: number) =>
    rows > 0
      ? halfWidthOf(expectedInterval(interval, expected[measure], rows, level))
      : Number.POSITIVE_INFINITY;
  const cohort = { prevalence, lost };
  const independent = (n: number) => Math.floor(n * perChild + 1e-9);

  const needs = wanted.map((want): AccuracyNeed & { readonly size: number | null } => {
    const { measure, value } = want;
    if (goals && expected[measure] <= value) {
      const none = undefinedBecause(
        `the expected ${measure} of ${expected[measure]} does not exceed the minimum of ${value}`,
      );
      return { measure, wanted: value, rowCount: none, n: none, size: null };
    }
    const size = goals
      ? rowsForGoal(goalOf(want), aim.power)
      : smallestEnough((rows) => halfWidthAt(measure, rows) <= value);
    const perRow = shareWith[measure] * (1 - lost);
    const n =
      size === null
        ? null
        : goals
          ? Math.ceil(size / perRow / perChild - 1e-9)
          : smallestEnough(
              (children) =>
                halfWidthAt(
                  measure,
                  (children * eyes.perChild * perRow) / effectOf(measure, children),
                ) <= value,
            );
    const words = goals ? `a power of ${percent(aim.power)}` : `a half-width of ${value}`;
    return {
      measure,
      wanted: value,
      rowCount:
        size === null || n === null
          ? nobodyIsEnough(words)
          : Math.ceil(size * effectOf(measure, n) - 1e-9),
      n: n ?? nobodyIsEnough(words),
      size,
    };
  });

  const power = goals
    ? jointGoals(Object.fromEntries(wanted.map((want) => [want.measure, goalOf(want)])), cohort)
    : null;
  const sizeOf = (measure: PlannedMeasure) =>
    needs.find((need) => need.measure === measure)?.size ?? 0;
  const chance = (n: number) =>
    chanceOfRows(independent(n), cohort, {
      withCondition: sizeOf("sensitivity"),
      withoutCondition: sizeOf("specificity"),
    });
  const most = () => {
    const numbers = needs.map(({ n }) => n);
    const none = numbers.find((n) => typeof n !== "number");
    return none ?? Math.max(...(numbers as number[]));
  };
  let n: number | Undefined;
  if (aim === undefined) n = undefinedBecause("no precision and no power is asked for");
  else n = most();
  if (typeof n === "number" && power !== null && goals) {
    const limit = n * 20;
    n =
      smallestStaying((children) => power(independent(children)) >= aim.power, {
        from: Math.max(2, Math.floor(n / 4)),
        most: limit,
      }) ?? nobodyIsEnough(`a power of ${percent(aim.power)}`);
  }
  if (typeof n === "number" && assurance !== undefined) {
    n =
      smallestEnough((children) => chance(children) >= assurance, { from: n }) ??
      nobodyIsEnough(`an assurance of ${percent(assurance)}`);
  }

  const rowAt = (children: number): AccuracyPlanRow => {
    const analysed = children * eyes.perChild * (1 - lost);
    const withCondition = analysed * prevalence;
    const withoutCondition = analysed - withCondition;
    const referred =
      (withCondition * expected.sensitivity + withoutCondition * (1 - expected.specificity)) /
      eyes.perChild;
    const examined = children * (1 - lost);
    return {
      n: children,
      withCondition,
      withoutCondition,
      referred,
      examined,
      examinedPasses: examined - referred,
      sensitivity: expectedInterval(
        interval,
        expected.sensitivity,
        withCondition / effectOf("sensitivity", children),
        level,
      ),
      specificity: expectedInterval(
        interval,
        expected.specificity,
        withoutCondition / effectOf("specificity", children),
        level,
      ),
      power: power === null ? null : power(independent(children)),
    };
  };
  const planned = typeof n === "number" ? rowAt(n) : null;
  return {
    kind: "accuracy-plan",
    aim: aim === undefined ? "none" : goals ? "goals" : "half-width",
    n,
    needs: needs.map(({ size: _, ...need }) => need),
    row: study.eyes === undefined ? "child" : "eye",
    level,
    method: interval,
    designEffect,
    shareOfPasses: null,
    chanceOfEnough: typeof n === "number" && !goals ? chance(n) : null,
    wantedPower: goals ? aim.power : null,
    planned,
    table: tableSizes(study.at, n)
      .filter((children) => children >= 2 * (study.sites?.perSite ?? 0))
      .map(rowAt),
    assumptions: accuracyAssumptions(study, planned),
    caution,
  };
}
