import {
  caution,
  type Estimate,
  InputError,
  type Undefined,
  undefinedBecause,
} from "../results/index.js";
import { accuracyAssumptions } from "./accuracyAssumptions.js";
import { expectedInterval, halfWidthOf, type PlannedInterval } from "./expectedInterval.js";
import { type Goal, rowsForGoal } from "./goalPower.js";
import { chanceOfRows, jointGoals } from "./jointGoals.js";
import { checkedStudy, studySchemas } from "./schema.js";
import { nobodyIsEnough, percent, tableSizes } from "./shared.js";
import { smallestEnough, smallestStaying } from "./smallestStaying.js";
import type { AccuracyStudy } from "./studies.js";
import { verifiedPrecision } from "./verifiedPlan.js";

export type PlannedMeasure = "sensitivity" | "specificity";

/** What a study of so many children is expected to give. */
export interface AccuracyPlanRow {
  /** Children screened. */
  readonly n: number;
  /** Expected rows with the condition: children, or eyes where eyes are analysed. */
  readonly withCondition: number;
  readonly withoutCondition: number;
  /** Expected children referred, among those with a usable reading. */
  readonly referred: number;
  /** Expected exams. */
  readonly examined: number;
  /** Expected exams of children who passed. */
  readonly examinedPasses: number;
  readonly sensitivity: Estimate | Undefined;
  readonly specificity: Estimate | Undefined;
  /** Chance that all minima are shown; null where none is asked for. */
  readonly power: number | null;
}

/** Rows that one aim needs, and the children expected to hold them. */
export interface AccuracyNeed {
  readonly measure: PlannedMeasure;
  readonly wanted: number;
  /** With the condition for sensitivity, without it for specificity. */
  readonly rows: number | Undefined;
  readonly n: number | Undefined;
}

export interface AccuracyPlan {
  readonly kind: "accuracy-plan";
  readonly aim: "half-width" | "goals" | "none";
  /** Children to screen. */
  readonly n: number | Undefined;
  readonly needs: readonly AccuracyNeed[];
  readonly row: "child" | "eye";
  readonly level: number;
  readonly method: PlannedInterval | "logit";
  /** Rows of one that carry as much as one independent row. */
  readonly designEffect: number;
  /** Share of passes to examine at random; null where every child is examined. */
  readonly shareOfPasses: number | Undefined | null;
  /** Chance that n children hold the rows needed; null where it is not defined. */
  readonly chanceOfEnough: number | null;
  readonly wantedPower: number | null;
  /** At n. */
  readonly planned: AccuracyPlanRow | null;
  readonly table: readonly AccuracyPlanRow[];
  readonly assumptions: readonly string[];
  readonly caution: string;
}

/**
 * How many children a study of referral accuracy has to screen: for intervals of sensitivity and
 * specificity of a wanted half-width, or to show with a wanted power that both exceed stated minima.
 *
 * A half-width is half the whole width of the interval that the analysis will use (Wilson by
 * default), were exactly the expected found; children from rows and prevalence as in Buderer 1996.
 * Power is exact: binomial, averaged over the numbers with and without the condition that a cohort
 * may hold; since it runs like a saw, n is the number from which it stays above. Goals are decided
 * by the lower end of the two-sided interval, both at once (no adjustment is needed where all must
 * hold). Two eyes enter by the design effect 1 + (m - 1) correlation. With `verification` only some
 * children are examined, and the interval is the corrected one of `correctVerification`.
 *
 * Rates are proportions, 0 to 1. `n` is undefined, with its reason, where no number of children is
 * enough, and where no aim is given.
 *
 * @throws when the plan has unknown members, a number out of its range, or choices that exclude one
 * another
 *
 * @example
 * planAccuracyStudy({ expected: { sensitivity: 0.9, specificity: 0.85, prevalence: 0.2 }, aim: { halfWidth: { sensitivity: 0.1 } }, interval: "wald" }).n // => 173
 * planAccuracyStudy({ expected: { sensitivity: 0.9, specificity: 0.85, prevalence: 0.2 }, aim: { halfWidth: { sensitivity: 0.1 } } }).n // => 183
 */
export function planAccuracyStudy(study: AccuracyStudy): AccuracyPlan {
  const checked = checkedStudy("planAccuracyStudy", studySchemas().accuracy, study);
  const wanted = wantedRates(checked);
  if (checked.verification !== undefined) return verifiedPlan(checked, wanted);
  return completePlan(checked, wanted);
}

type Wanted = readonly { readonly measure: PlannedMeasure; readonly value: number }[];

function wantedRates({ aim }: AccuracyStudy): Wanted {
  if (aim === undefined) return [];
  const given = "halfWidth" in aim ? aim.halfWidth : "width" in aim ? aim.width : aim.minimum;
  const part = "width" in aim ? 0.5 : 1;
  return measures.flatMap((measure) => {
    const value = given[measure];
    return value === undefined ? [] : [{ measure, value: part * value }];
  });
}

const measures = ["sensitivity", "specificity"] as const;

/** Every child with a usable reading is examined. */
function completePlan(study: AccuracyStudy, wanted: Wanted): AccuracyPlan {
  const { expected, aim, interval = "wilson", level = 0.95, lost = 0, assurance } = study;
  const { prevalence } = expected;
  const eyes = study.eyes ?? { perChild: 1, correlation: 0 };
  const designEffect = 1 + (eyes.perChild - 1) * eyes.correlation;
  const perChild = eyes.perChild / designEffect;
  const shareWith = { sensitivity: prevalence, specificity: 1 - prevalence };
  const goals = aim !== undefined && "minimum" in aim;
  const goalOf = ({ measure, value }: Wanted[number]): Goal => ({
    expected: expected[measure],
    minimum: value,
    interval,
    level,
  });
  const halfWidthAt = (measure: PlannedMeasure, rows: number) =>
    halfWidthOf(expectedInterval(interval, expected[measure], rows, level));
  const cohort = { prevalence, lost };
  const independent = (n: number) => Math.floor(n * perChild + 1e-9);

  const needs = wanted.map((want): AccuracyNeed & { readonly size: number | null } => {
    const { measure, value } = want;
    if (goals && expected[measure] <= value) {
      const none = undefinedBecause(
        `the expected ${measure} of ${expected[measure]} does not exceed the minimum of ${value}`,
      );
      return { measure, wanted: value, rows: none, n: none, size: null };
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
              (children) => halfWidthAt(measure, children * perChild * perRow) <= value,
            );
    const words = goals ? `a power of ${percent(aim.power)}` : `a half-width of ${value}`;
    return {
      measure,
      wanted: value,
      rows: size === null ? nobodyIsEnough(words) : Math.ceil(size * designEffect - 1e-9),
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
        withCondition / designEffect,
        level,
      ),
      specificity: expectedInterval(
        interval,
        expected.specificity,
        withoutCondition / designEffect,
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
    table: tableSizes(study.at, n).map(rowAt),
    assumptions: accuracyAssumptions(study, planned),
    caution,
  };
}

/** The referred are examined, and a random share of the passes. */
function verifiedPlan(study: AccuracyStudy, wanted: Wanted): AccuracyPlan {
  const { expected, level = 0.95, lost = 0, verification = {} } = study;
  const { children, shareOfReferred = 1 } = verification;
  const at = (n: number, shareOfPasses: number) =>
    verifiedPrecision(
      { ...expected, screened: n * (1 - lost), shareOfReferred, shareOfPasses },
      level,
    );
  const reached = (measure: PlannedMeasure, value: number, n: number, share: number) => {
    const estimate = at(n, share)[measure];
    return estimate.kind === "estimate" && halfWidthOf(estimate) <= value;
  };
  let n: number | Undefined;
  let shareOfPasses: number | Undefined = verification.shareOfPasses ?? 1;
  let needs: readonly AccuracyNeed[];
  if (children !== undefined) {
    const passes = at(children, 1).passed;
    const exams = wanted.map(({ measure, value }) =>
      smallestEnough((passed) => reached(measure, value, children, Math.min(1, passed / passes)), {
        most: Math.ceil(passes),
      }),
    );
    n = children;
    shareOfPasses = exams.includes(null)
      ? undefinedBecause("not reached with every pass examined: more children have to be screened")
      : Math.min(1, Math.max(...(exams as number[])) / passes);
    if (typeof shareOfPasses !== "number") n = shareOfPasses;
    needs = wanted.map(({ measure, value }, which) => ({
      measure,
      wanted: value,
      rows: exams[which] ?? (shareOfPasses as Undefined),
      n: exams[which] === null ? (shareOfPasses as Undefined) : children,
    }));
  } else {
    const share = shareOfPasses;
    needs = wanted.map(({ measure, value }) => {
      const size =
        smallestEnough((screened) => reached(measure, value, screened, share), { from: 2 }) ??
        nobodyIsEnough(`a half-width of ${value}`);
      return {
        measure,
        wanted: value,
        rows: typeof size === "number" ? Math.ceil(at(size, share).examinedPasses) : size,
        n: size,
      };
    });
    const none = needs.find((need) => typeof need.n !== "number");
    n =
      needs.length === 0
        ? undefinedBecause("no precision and no power is asked for")
        : ((none?.n as Undefined | undefined) ??
          Math.max(...needs.map((need) => need.n as number)));
  }
  const share = typeof shareOfPasses === "number" ? shareOfPasses : 1;
  const rowAt = (screened: number): AccuracyPlanRow => {
    const row = at(screened, share);
    const usable = screened * (1 - lost);
    return {
      n: screened,
      withCondition: usable * expected.prevalence,
      withoutCondition: usable * (1 - expected.prevalence),
      referred: row.referred,
      examined: row.examinedReferred + row.examinedPasses,
      examinedPasses: row.examinedPasses,
      sensitivity: row.sensitivity,
      specificity: row.specificity,
      power: null,
    };
  };
  const planned = typeof n === "number" ? rowAt(n) : null;
  if (study.aim === undefined && study.at === undefined) {
    throw new InputError("planAccuracyStudy requires an aim or sizes `at`, got neither");
  }
  return {
    kind: "accuracy-plan",
    aim: study.aim === undefined ? "none" : "half-width",
    n,
    needs,
    row: "child",
    level,
    method: "logit",
    designEffect: 1,
    shareOfPasses,
    chanceOfEnough: null,
    wantedPower: null,
    planned,
    table: tableSizes(study.at, n).map(rowAt),
    assumptions: accuracyAssumptions(study, planned),
    caution,
  };
}
