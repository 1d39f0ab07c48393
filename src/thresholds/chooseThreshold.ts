import {
  errorOverRepeats,
  type KeptConstraint,
  keptConstraint,
  meanOverRepeats,
  type Performance,
  type PerformanceMeasures,
  performanceOf,
} from "../accuracy/index.js";
import { requireLevel } from "../inference/index.js";
import {
  caution,
  type ForAudience,
  formerNames,
  InputError,
  jointAudience,
  type RunOptions,
  type TwoByTwo,
} from "../results/index.js";
import { type PositiveWhen, requireWhole } from "../rows/index.js";
import { assuredCriterion } from "./assuredRate.js";
import { bestCandidate, candidatesOf, ratesAt } from "./candidates.js";
import { type Criterion, constraintOf, scoreOf } from "./criterion.js";
import { crossValidate } from "./crossValidate.js";
import { type CutOffShare, cutOffDistribution, decisionText } from "./cutOffDistribution.js";
import { fewChildrenWords, nestedIntervals } from "./nestedIntervals.js";
import { optimismOf } from "./optimism.js";
import { drawnUnits, type PreparedRows, prepareRows, type ThresholdRows } from "./prepareRows.js";
import type { ReplicateTask } from "./replicates.js";
import { runReplicates } from "./replicateThreads.js";

export interface ThresholdOptions extends RunOptions {
  readonly positiveWhen: PositiveWhen;
  readonly criterion: Criterion;
  readonly seed: number;
  /** Cut-offs to choose among, such as round numbers; every distinct value by default. */
  readonly cutOffs?: ArrayLike<number>;
  /** Bootstrap replicates, 1000 by default. */
  readonly replicates?: number;
  /** Folds of the cross-validation (whole children), 10 by default, and its repeats, 20. */
  readonly folds?: number;
  readonly repeats?: number;
  /** Replicates of the nested bootstrap, 200 outer with 40 inner by default; outer 0 leaves it out. */
  readonly nested?: { readonly outer: number; readonly inner: number };
  /**
   * "observed" (default): the rate on these rows keeps the constraint. "assured": new children keep it
   * with probability `assurance` (0.95), by exact tests from the safest cut-off on.
   */
  readonly constraint?: "observed" | "assured";
  readonly assurance?: number;
  /** 0.95 by default. */
  readonly level?: number;
  /** Threads; the result is the same for any number. Default 1, the caller's own. */
  readonly workers?: number;
}

/** A cut-off chosen on these rows, and how much of its performance is luck. */
export interface ThresholdChoice extends ForAudience {
  readonly kind: "threshold-choice";
  /** Says that the cut-off was chosen on these very rows. */
  readonly label: string;
  readonly n: number;
  /** Number of children, where subjects were given. */
  readonly subjects?: number;
  /** Number of sites above them, where `clusters` were given: sites are drawn, and kept whole in folds. */
  readonly sites?: number;
  readonly withCondition: number;
  readonly withoutCondition: number;
  readonly weighting: "none" | "known" | "examination";
  readonly positiveWhen: PositiveWhen;
  readonly criterion: Criterion;
  /** Refer at this value and beyond it; null is "nobody". */
  readonly cutOff: number | null;
  readonly words: string;
  /** Counts, or sums of weights, of the chosen cut-off on these rows. */
  readonly table: TwoByTwo;
  /** Share of bootstrap replicates in which each cut-off was chosen; not an interval. */
  readonly distribution: readonly CutOffShare[];
  /** Performance on the rows on which it was chosen: too good. */
  readonly apparent: Performance;
  /** Mean over replicates of apparent performance minus that on these rows. */
  readonly optimism: Performance;
  /** Apparent minus optimism. */
  readonly corrected: Performance;
  /** Intervals of the corrected values by the nested bootstrap: approximate. */
  readonly correctedIntervals: PerformanceMeasures;
  /** Chosen and judged on different children, mean over repeats; null where a fold lacks a class. */
  readonly crossValidated: Performance | null;
  /** Standard error of that mean over repeats: the luck of the folds only. */
  readonly crossValidationError: Performance | null;
  readonly folds: number;
  readonly repeats: number;
  /** What is known of the criterion's constraint in new children; null where it sets none. */
  readonly constraint: KeptConstraint | null;
  readonly level: number;
  readonly method: string;
  readonly replicates: number;
  /** Replicates without a choice (a class or stratum missing). */
  readonly failed: number;
  readonly seed: number;
  readonly notes: readonly string[];
  readonly caution: string;
}

/** Below so many sites their bootstrap gives no interval that holds. */
const fewestSites = 40;

/** First streams of the kinds of replicates that share the seed. */
const streams = { nested: 1_000_000_000, folds: 2_000_000_000 };

/**
 * Chooses the cut-off that is best by a criterion, and says how much of that is luck.
 *
 * A row is referred when its value is >= the cut-off (`positiveWhen: "high"`) or <= it ("low").
 * Ties go to the higher sensitivity, then to the stricter cut-off. Side by side: apparent
 * performance; corrected for optimism by a bootstrap (Efron 1983), with the nested (two-stage)
 * bootstrap's interval, approximate; and cross-validated with whole children in folds. The
 * corrected one stays too good when there is nothing to find; the cross-validated one does not.
 * Children are resampled with all their rows where `subjects` are given; without it rows are taken
 * as independent. With `clusters: { subject, site }` sites are what is drawn and put into folds, and
 * below 40 of them corrected rates have no interval. With `examination` the weights of examined rows are estimated in each resample.
 * For a cut-off that was fixed beforehand use `validateThreshold`.
 *
 * Cut-offs are in the unit of the values; rates are proportions, 0 to 1.
 *
 * @throws when one class is missing, columns are faulty, or no cut-off meets the constraint
 *
 * @example
 * (await chooseThreshold({ values: [1, 2, 3, 4, 5, 6, 7, 8], condition: [0, 0, 0, 1, 0, 1, 1, 1] }, { positiveWhen: "high", criterion: "youden", seed: 1, folds: 4, replicates: 100 })).cutOff // => 4
 */
export async function chooseThreshold(
  data: ThresholdRows,
  options: ThresholdOptions,
): Promise<ThresholdChoice> {
  const caller = "chooseThreshold";
  data = formerNames(caller, data, "examination");
  const { criterion, seed, replicates = 1000, level = 0.95 } = options;
  const { constraint: mode = "observed", assurance = 0.95 } = options;
  if (mode !== "observed" && mode !== "assured") {
    throw new InputError(`${caller} requires constraint "observed" or "assured", got "${mode}"`);
  }
  requireLevel(caller, assurance);
  requireLevel(caller, level);
  requireWhole(caller, "replicates", replicates, 2);
  scoreOf(caller, criterion);
  const rows = prepareRows(caller, data, options.positiveWhen);
  const { classes } = rows;
  if (mode === "assured" && rows.weighting !== "none") {
    throw new InputError(
      `${caller} requires unweighted rows for constraint "assured", got ${rows.weighting} weights`,
    );
  }
  if (mode === "assured" && rows.sites !== null) {
    throw new InputError(
      `${caller} requires subjects for constraint "assured", whose test takes children as independent, got clusters with sites; take constraint "observed"`,
    );
  }
  const constrained = constraintOf(criterion);
  const assured =
    mode === "assured"
      ? assuredCriterion(
          caller,
          criterion,
          classes[constrained?.measure ?? "specificity"],
          assurance,
        )
      : null;
  // Resamples and folds choose as the choice itself was made.
  const used = assured?.criterion ?? criterion;
  const score = scoreOf(caller, used);
  const candidates = candidatesOf(caller, rows, options.cutOffs);
  const chosen = bestCandidate(candidates, rows.counts, score);
  if (chosen === null) {
    throw new InputError(
      `${caller} requires a cut-off that meets the constraint, got none for ${JSON.stringify(criterion)}${assured === null ? "" : `, which asks for ${assured.demanded.toFixed(3)} on these rows`}`,
    );
  }
  const original = ratesAt(candidates, rows.counts);
  const run = (task: ReplicateTask, firstStream: number) => (count: number, stage: string) => {
    const plan = { seed, firstStream, units: rows.units, task };
    return runReplicates(plan, count, { ...options, stage });
  };
  const choices = await run({ kind: "choice", candidates, criterion: used }, 0)(
    replicates,
    "bootstrap",
  );
  const apparent = performanceOf(chosen.sensitivity, chosen.specificity);
  const { optimism, failed } = optimismOf(choices, original);
  const corrected = performanceOf(
    apparent.sensitivity - optimism.sensitivity,
    apparent.specificity - optimism.specificity,
  );
  const fewSites = rows.sites !== null && rows.sites.count < fewestSites;
  const { outer, inner } = fewSites
    ? { outer: 0, inner: 0 }
    : (options.nested ?? { outer: 200, inner: 40 });
  const nested =
    outer > 0
      ? await run({ kind: "nested", candidates, criterion: used, inner }, streams.nested)(
          outer,
          "nested",
        )
      : new Float64Array(0);
  const folds = options.folds ?? Math.min(10, rows.typeOfUnit.length);
  const repeats = options.repeats ?? 20;
  requireWhole(caller, "folds", folds, 2);
  requireWhole(caller, "repeats", repeats, 1);
  if (folds > rows.typeOfUnit.length) {
    throw new InputError(
      `${caller} requires at most a fold a ${rows.sites === null ? "child" : "site"}, got ${folds} folds for ${rows.typeOfUnit.length} ${rows.sites === null ? "children" : "sites"}`,
    );
  }
  const validated = crossValidate(rows.units, rows.typeOfUnit, candidates, score, {
    folds,
    repeats,
    seed,
    firstStream: streams.folds,
  });
  return {
    kind: "threshold-choice",
    ...jointAudience(data),
    label: "cut-off chosen on these rows; validate it on others",
    n: rows.n,
    ...(rows.clusters === null ? {} : { subjects: rows.clusters.count }),
    ...(rows.sites === null ? {} : { sites: rows.sites.count }),
    withCondition: rows.totalWith,
    withoutCondition: rows.totalWithout,
    weighting: rows.weighting,
    positiveWhen: rows.positiveWhen,
    criterion,
    cutOff: candidates.cutOffs[chosen.candidate],
    words: decisionText(candidates.cutOffs[chosen.candidate], rows.positiveWhen),
    table: tableAt(rows, chosen.sensitivity, chosen.specificity),
    distribution: cutOffDistribution(choices, candidates.cutOffs),
    apparent,
    optimism,
    corrected,
    correctedIntervals: nestedIntervals(corrected, nested, level, fewSites),
    crossValidated: validated && meanOverRepeats(validated),
    crossValidationError: validated && errorOverRepeats(validated),
    folds,
    repeats,
    constraint:
      constrained &&
      keptConstraint(constrained, apparent, {
        mode,
        assurance,
        demanded: assured?.demanded ?? null,
        children: classes,
        unbounded: rows.weighting !== "none" || rows.sites !== null,
        what: "cut-off",
      }),
    level,
    method: `bootstrap of ${drawnUnits(rows)}`,
    replicates,
    failed,
    seed,
    notes: notesOn(rows, criterion, validated === null),
    caution,
  };
}

function tableAt(rows: PreparedRows, sensitivity: number, specificity: number): TwoByTwo {
  const tidy = (count: number) => (rows.weighting === "none" ? Math.round(count) : count);
  const truePositive = tidy(sensitivity * rows.totalWith);
  const trueNegative = tidy(specificity * rows.totalWithout);
  return {
    truePositive,
    falsePositive: rows.totalWithout - trueNegative,
    falseNegative: rows.totalWith - truePositive,
    trueNegative,
  };
}

function notesOn(rows: PreparedRows, criterion: Criterion, noFolds: boolean): string[] {
  const notes = [
    "Apparent performance is too good: the cut-off was chosen on the same rows.",
    ...(rows.sites !== null && rows.sites.count < fewestSites
      ? [
          `${rows.sites.count} sites were drawn: below ${fewestSites} a bootstrap of sites gives no interval that holds.`,
        ]
      : [
          "The intervals of corrected performance come from a nested bootstrap and are approximate.",
        ]),
  ];
  const few = fewChildrenWords(rows.clusters?.count ?? rows.n);
  if (few !== null) notes.push(few);
  const constraint = constraintOf(criterion);
  if (constraint !== null) {
    notes.push(
      `The interval of corrected ${constraint.measure}, which the criterion constrains, covers too little (.81 to .88 in simulation): read constraint.`,
    );
  }
  if (noFolds) notes.push("A fold or a training part lacked a class: take fewer folds.");
  if (rows.clusters === null) notes.push("Rows were taken as independent children.");
  if (rows.weighting === "examination") {
    notes.push("Examined rows stand for the unexamined of their stratum.");
  }
  return notes;
}
