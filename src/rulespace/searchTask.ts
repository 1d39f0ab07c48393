import { shuffleInPlace } from "simple-statistics";
import type { ResampleUnits } from "../inference/index.js";
import { cellCounter, createRandom, unitSampler } from "../inference/index.js";
import { chooseOnGrid, type GridChoice } from "./chooseOnGrid.js";
import { envelopeOfGrid, frontOnGrid } from "./frontOnGrid.js";
import { judgeRule } from "./judgeRule.js";
import { hasEnvelope } from "./ruleEnvelope.js";
import { type GridCounts, ratesOnGrid } from "./ruleGrid.js";
import { searchCounter } from "./searchCounter.js";
import type { SearchGrid } from "./searchRows.js";

/** Whole searches on resamples, or on all folds but one; plain data, any part runs anywhere. */
export interface SearchPlan {
  readonly seed: number;
  readonly firstStream: number;
  readonly grid: SearchGrid;
  readonly units: ResampleUnits;
  readonly choice: GridChoice;
  readonly task:
    | {
        readonly kind: "bootstrap";
        /** Rules whose rates are wanted in each resample. */
        readonly watched: Float64Array;
        /** Specificities at which the front is read. */
        readonly specificities: readonly number[];
      }
    | { readonly kind: "folds"; readonly folds: number; readonly typeOfUnit: Int32Array };
}

/** Numbers a run of the task gives. */
export function widthOfSearch({ task }: SearchPlan): number {
  if (task.kind === "folds") return 5;
  return 3 + 2 * task.watched.length + 3 * task.specificities.length;
}

/**
 * Prepares a plan; the function it returns does the runs from (included) to (excluded), each from a
 * stream of its own. NaN marks what cannot be computed.
 *
 * Bootstrap: the chosen rule, its sensitivity and specificity in the resample; the two rates of each
 * watched rule; at each specificity the rule of the resample's front and its two rates. Folds: the
 * chosen rule, and found, ill, spared, well on the fold left out.
 */
export function searchRunner(plan: SearchPlan): (from: number, to: number) => Float64Array {
  const width = widthOfSearch(plan);
  const run = plan.task.kind === "folds" ? foldRun(plan, plan.task) : resampleRun(plan, plan.task);
  return (from, to) => {
    const out = new Float64Array(width * (to - from)).fill(Number.NaN);
    for (let at = from; at < to; at++) {
      run(at, out.subarray((at - from) * width, (at - from + 1) * width));
    }
    return out;
  };
}

type Run = (at: number, slot: Float64Array) => void;

function resampleRun(
  { seed, firstStream, grid, units, choice }: SearchPlan,
  { watched, specificities }: Extract<SearchPlan["task"], { kind: "bootstrap" }>,
): Run {
  const random = createRandom(seed);
  const draw = unitSampler(units);
  const drawn = new Int32Array(units.counts.length);
  const count = cellCounter(units);
  const countAll = searchCounter(grid);
  return (at, slot) => {
    random.restart(seed, firstStream + at);
    draw(random, drawn);
    const kinds = count(drawn);
    if (kinds === null) return;
    const counts = countAll(kinds);
    if (!(counts.withCondition.total > 0 && counts.withoutCondition.total > 0)) return;
    const envelope = hasEnvelope(counts) ? envelopeOfGrid(counts) : undefined;
    const best = chooseOnGrid(counts, choice, envelope);
    let place = writeRates(slot, 0, counts, best, true);
    for (const rule of watched) place = writeRates(slot, place, counts, rule, false);
    const front = specificities.length === 0 ? [] : frontOnGrid(counts, "specificity", envelope);
    for (const least of specificities) {
      place = writeRates(slot, place, counts, lastAtLeast(front, counts, least), true);
    }
  };
}

/** Writes a rule (where asked), its sensitivity and specificity; returns the next place. */
function writeRates(
  slot: Float64Array,
  place: number,
  counts: GridCounts,
  rule: number,
  withRule: boolean,
): number {
  const next = place + (withRule ? 3 : 2);
  if (rule < 0) return next;
  const { missed, spared } = ratesOnGrid(counts, rule);
  slot.set(withRule ? [rule, 1 - missed, spared] : [1 - missed, spared], place);
  return next;
}

/** The rule of a front, by falling specificity, that is the most sensitive at a specificity. */
export function lastAtLeast(front: readonly number[], counts: GridCounts, least: number): number {
  let found = -1;
  for (const rule of front) {
    if (ratesOnGrid(counts, rule).spared < least) break;
    found = rule;
  }
  return found;
}

function foldRun(
  { seed, firstStream, grid, units, choice }: SearchPlan,
  { folds, typeOfUnit }: Extract<SearchPlan["task"], { kind: "folds" }>,
): Run {
  const random = createRandom(seed);
  const count = cellCounter(units);
  const countAll = searchCounter(grid);
  const left = new Int32Array(units.counts.length);
  const kept = new Int32Array(units.counts.length);
  return (at, slot) => {
    random.restart(seed, firstStream + Math.floor(at / folds));
    const order = shuffleInPlace([...typeOfUnit.keys()], random.uniform);
    left.fill(0);
    for (let place = at % folds; place < order.length; place += folds) {
      left[typeOfUnit[order[place]]]++;
    }
    for (let type = 0; type < kept.length; type++) kept[type] = units.counts[type] - left[type];
    const training = count(kept);
    if (training === null) return;
    const counts = countAll(training);
    if (!(counts.withCondition.total > 0 && counts.withoutCondition.total > 0)) return;
    const rule = chooseOnGrid(counts, choice);
    const judged = rule < 0 ? null : count(left);
    if (judged === null) return;
    const sums = { found: 0, ill: 0, spared: 0, well: 0 };
    judgeRule(grid, judged, rule, sums);
    slot.set([rule, sums.found, sums.ill, sums.spared, sums.well]);
  };
}
