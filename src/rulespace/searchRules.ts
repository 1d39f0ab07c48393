import {
  errorOverRepeats,
  keptConstraint,
  meanOverRepeats,
  performanceOf,
} from "../accuracy/index.js";
import { cellCounter, requireLevel } from "../inference/index.js";
import { caution, formerNames, InputError, type RunOptions } from "../results/index.js";
import { requireWhole, type UndecidablePolicy } from "../rows/index.js";
import { assuredChoice, constrainedRate } from "./assuredRules.js";
import { choiceOf, type RuleConstraints } from "./bestRule.js";
import { chooseOnGrid } from "./chooseOnGrid.js";
import { rulePoint } from "./paretoFront.js";
import { limitsAt, tableAt } from "./ruleAt.js";
import { plateauRules } from "./rulePlateau.js";
import type { RuleSearch } from "./ruleSearch.js";
import { requireRoom, spaceBytes } from "./ruleSpaceSize.js";
import { searchCounter } from "./searchCounter.js";
import { prepareSearch, type RuleRows, type SearchRows } from "./searchRows.js";
import type { SearchPlan } from "./searchTask.js";
import { runSearches } from "./searchThreads.js";
import { summariseFolds, summariseResamples } from "./summariseSearch.js";

export interface SearchOptions extends RunOptions {
  readonly constraints?: RuleConstraints;
  /**
   * "observed" (default): the rate on these rows keeps the constraint. "assured": new children keep it
   * with probability `assurance` (0.95), by exact tests shared over the widest layer of the grid.
   */
  readonly constraint?: "observed" | "assured";
  readonly assurance?: number;
  /** What to do with a missing value; required where there is one. */
  readonly undecidable?: UndecidablePolicy;
  /** Folds of the cross-validation (whole children), 10 by default, and its repeats, 5. */
  readonly folds?: number;
  readonly repeats?: number;
  /** Bootstrap resamples of the whole search, 200 by default. */
  readonly replicates?: number;
  readonly seed: number;
  /** Of the plateau, 0.95 by default. */
  readonly level?: number;
  /** Specificities at which the front is read; 0.8 to 0.99 by default. */
  readonly specificities?: readonly number[];
  /** Threads; the result is the same for any number. Default 1, the caller's own. */
  readonly workers?: number;
}

const usualSpecificities = [0.8, 0.85, 0.9, 0.92, 0.94, 0.95, 0.96, 0.97, 0.98, 0.99];

/** First stream of the folds; resamples begin at 0. */
const foldStreams = 2_000_000_000;

/**
 * Searches every joint any-of rule of a grid for the best one, and says how much of that is luck.
 *
 * The whole search is repeated on bootstrap resamples of children (optimism, Efron 1983; stability
 * of each limit; the plateau of rules that cannot be told from the chosen one) and on folds
 * (cross-validated performance, whole children in folds; counts added over the folds). Values are
 * referred at >= their limit, ties as in `bestRule`. The bootstrap-corrected performance stays too
 * good when there is nothing to find; the cross-validated one does not. With `clusters: { subject,
 * site }` sites are drawn and put into folds. With `examination` the
 * examined rows stand for the unexamined of their stratum, weighted anew in each resample.
 *
 * Rates are proportions, 0 to 1.
 *
 * @throws when rows are faulty, a stratum has none examined, no rule meets the constraints, or the
 *   grid is too large
 *
 * @example
 * (await searchRules({ measures: { sphere: [1, 2, 3, 4, 5, 6, 7, 8] }, condition: [0, 0, 0, 1, 0, 1, 1, 1], limits: { sphere: [2, 4, 6] } }, { constraints: { specificityAtLeast: 0.7 }, folds: 4, repeats: 1, replicates: 50, seed: 1 })).limits // => { sphere: 4 }
 */
export async function searchRules(data: RuleRows, options: SearchOptions): Promise<RuleSearch> {
  const caller = "searchRules";
  data = formerNames(caller, data, "examination");
  options = formerNames(caller, options, "undecidable");
  const constraints = formerNames(caller, options.constraints ?? {}, "constraints");
  const { seed, replicates = 200, level = 0.95, repeats = 5 } = options;
  const specificities = options.specificities ?? usualSpecificities;
  requireLevel(caller, level);
  requireWhole(caller, "replicates", replicates, 2);
  requireWhole(caller, "repeats", repeats, 1);
  requireWhole(caller, "workers", options.workers ?? 1, 1);
  requireRoom(caller, data.limits);
  const rows = prepareSearch(caller, data, options.undecidable);
  const children = rows.typeOfUnit.length;
  const folds = options.folds ?? Math.min(10, children);
  requireWhole(caller, "folds", folds, 2);
  if (folds > children) {
    throw new InputError(`${caller} requires at most a fold a child, got ${folds} for ${children}`);
  }
  const { grid, units, criteria, limits } = rows;
  const asked = choiceOf(caller, criteria, limits, constraints);
  const { constraint: mode = "observed", assurance = 0.95 } = options;
  requireLevel(caller, assurance);
  requireMode(caller, mode, rows);
  const assured = mode === "assured" ? assuredChoice(caller, asked, rows.classes, assurance) : null;
  // Resamples and folds choose as the choice itself is made.
  const choice = assured?.choice ?? asked;
  const counts = searchCounter(grid)(cellCounter(units)(units.counts)!);
  const { withCondition, withoutCondition } = counts;
  if (!(withCondition.total > 0 && withoutCondition.total > 0)) {
    throw new InputError(
      `${caller} requires rows with and rows without the condition, got ${withCondition.total} and ${withoutCondition.total}`,
    );
  }
  const chosen = chooseOnGrid(counts, choice);
  if (chosen < 0) {
    throw new InputError(
      `${caller} requires a rule that meets the constraints, got none${assured === null ? "" : `: ${assured.demanded.toFixed(3)} would have to be reached on these rows`}`,
    );
  }
  const compared = plateauRules(counts, choice, chosen);
  const run = (task: SearchPlan["task"], firstStream: number, runs: number, stage: string) => {
    const plan = { seed, firstStream, grid, units, choice, task };
    return runSearches(plan, runs, { ...options, stage });
  };
  const resamples = await run(
    { kind: "bootstrap", watched: compared.all, specificities },
    0,
    replicates,
    "bootstrap of the search",
  );
  const foldRuns = await run(
    { kind: "folds", folds, typeOfUnit: rows.typeOfUnit },
    foldStreams,
    folds * repeats,
    "cross-validation of the search",
  );
  const point = rulePoint(limitsAt(criteria, limits, chosen), tableAt(counts, chosen));
  const apparent = performanceOf(point.sensitivity, point.specificity);
  const validated = summariseFolds(foldRuns, folds);
  const constrained = constrainedRate(asked);
  return {
    kind: "rule-search",
    label: "rule chosen on these rows; validate it on others",
    n: rows.n,
    ...(rows.clusters === null ? {} : { subjects: rows.clusters.count }),
    ...(rows.sites === null ? {} : { sites: rows.sites.count }),
    examined: rows.examined,
    ruleCount: grid.rules,
    criteria,
    constraints,
    undecidable: options.undecidable ?? null,
    weighting: rows.weighting,
    limits: point.limits,
    table: point.table,
    referralRate: point.referralRate,
    apparent,
    ...summariseResamples(resamples, {
      rows,
      counts,
      choice,
      compared,
      specificities,
      level,
      apparent,
    }),
    constraint:
      constrained &&
      keptConstraint(constrained, apparent, {
        mode,
        assurance,
        demanded: assured?.demanded ?? null,
        compared: assured?.compared,
        children: rows.classes,
        unbounded: rows.weighting !== "none" || rows.sites !== null,
        what: "rule",
      }),
    crossValidated: validated && meanOverRepeats(validated),
    crossValidationError: validated && errorOverRepeats(validated),
    folds,
    repeats,
    level,
    method: `bootstrap of ${rows.sites !== null ? "sites" : rows.clusters === null ? "rows" : "children"}`,
    replicates,
    seed,
    bytes: spaceBytes(grid.rules, !grid.whole, grid.openCells !== null),
    notes: notesOn(rows, validated === null),
    caution,
  };
}

/** The promise is made for independent, unweighted children whom every rule decides. */
function requireMode(caller: string, mode: string, rows: SearchRows): void {
  if (mode === "observed") return;
  if (mode !== "assured") {
    throw new InputError(`${caller} requires constraint "observed" or "assured", got "${mode}"`);
  }
  const fault =
    rows.weighting !== "none"
      ? `${rows.weighting} weights`
      : rows.sites !== null
        ? "clusters with sites"
        : rows.grid.openCells !== null
          ? 'undecidable: "exclude" with missing values'
          : null;
  if (fault === null) return;
  throw new InputError(
    `${caller} requires independent children, each of them decided, for constraint "assured", got ${fault}; take constraint "observed"`,
  );
}

function notesOn(rows: SearchRows, noFolds: boolean): string[] {
  const notes = [
    "Apparent performance is too good: the rule was searched on the same rows.",
    "The plateau compares with a rule that was itself chosen on these rows.",
  ];
  if (noFolds) notes.push("A fold or a training part lacked a class or a rule: take fewer folds.");
  if (rows.sites !== null && rows.sites.count < 40) {
    notes.push(
      `${rows.sites.count} sites were drawn: below 40 a bootstrap of sites covers too little, and the plateau is too narrow.`,
    );
  }
  if (rows.clusters === null) notes.push("Rows were taken as independent children.");
  if (rows.weighting === "examination") {
    notes.push("Examined rows stand for the unexamined of their stratum.");
  }
  return notes;
}
