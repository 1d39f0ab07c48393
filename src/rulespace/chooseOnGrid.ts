import { placesOf } from "./judgeRule.js";
import {
  eachRun,
  emptyEnvelope,
  extendEnvelope,
  hasEnvelope,
  type RuleEnvelope,
} from "./ruleEnvelope.js";
import { type RuleGoal, scoreOfGoal } from "./ruleGoal.js";
import type { GridCounts } from "./ruleGrid.js";

/** A choice as plain numbers, without the names of the axes. */
export interface GridChoice {
  readonly goal: RuleGoal;
  readonly specificityAtLeast: number;
  readonly sensitivityAtLeast: number;
  readonly referralRateAtMost: number;
  /** How many of each axis' limits may be taken, from the lowest on. */
  readonly allowed: readonly number[];
}

/**
 * The rule that is best by a choice, -1 where none is admitted. Ties go to the fewer misses, then to
 * the more spared, then to the lowest limits in the order of the axes.
 *
 * @param whole an envelope of all rules, where the caller has one already
 */
export function chooseOnGrid(grid: GridCounts, choice: GridChoice, whole?: RuleEnvelope): number {
  const { sizes, withCondition, withoutCondition } = grid;
  if (!hasEnvelope(grid)) return chooseByScan(grid, choice);
  const free = sizes.every((size, axis) => choice.allowed[axis] === size);
  if (free && whole !== undefined) return ruleOf(whole, chooseOnEnvelope(whole, choice));
  const envelope = emptyEnvelope(withCondition.total, withoutCondition.total);
  const { allowed } = choice;
  const passed = [withCondition.passed as Int32Array, withoutCondition.passed as Int32Array];
  extendEnvelope(envelope, passed[0], passed[1], { sizes, allowed });
  return ruleOf(envelope, chooseOnEnvelope(envelope, choice));
}

function ruleOf(envelope: RuleEnvelope, misses: number): number {
  return misses < 0 ? -1 : envelope.rule[misses];
}

/** Number of misses of the best rule of an envelope that holds the allowed rules only, or -1. */
export function chooseOnEnvelope(envelope: RuleEnvelope, choice: GridChoice): number {
  const { totalWith, totalWithout, mostSpared } = envelope;
  const better = comparison(choice);
  const admits = admission(choice);
  let best = -1;
  for (let misses = 0; misses <= totalWith; misses++) {
    const spared = mostSpared[misses];
    if (spared < 0 || !admits(misses, totalWith, spared, totalWithout)) continue;
    if (better(misses / totalWith, spared / totalWithout)) best = misses;
  }
  return best;
}

/** Whether a rule meets all constraints of a choice. */
export function admitsRule(grid: GridCounts, choice: GridChoice, rule: number): boolean {
  const { sizes, withCondition: sick, withoutCondition: healthy } = grid;
  const ill = sick.total - (sick.undecidable?.[rule] ?? 0);
  const well = healthy.total - (healthy.undecidable?.[rule] ?? 0);
  return (
    placesOf(rule, sizes).every((place, axis) => place < choice.allowed[axis]) &&
    ill > 0 &&
    well > 0 &&
    admission(choice)(sick.passed[rule], ill, healthy.passed[rule], well)
  );
}

function chooseByScan(grid: GridCounts, choice: GridChoice): number {
  const { withCondition: sick, withoutCondition: healthy } = grid;
  const better = comparison(choice);
  const admits = admission(choice);
  let best = -1;
  eachRun({ sizes: grid.sizes, allowed: choice.allowed }, (from, to) => {
    for (let rule = from; rule < to; rule++) {
      const ill = sick.total - (sick.undecidable?.[rule] ?? 0);
      const well = healthy.total - (healthy.undecidable?.[rule] ?? 0);
      if (!(ill > 0) || !(well > 0)) continue;
      if (!admits(sick.passed[rule], ill, healthy.passed[rule], well)) continue;
      if (better(sick.passed[rule] / ill, healthy.passed[rule] / well)) best = rule;
    }
  });
  return best;
}

/** True when the rates beat all that were shown before. */
function comparison({ goal }: GridChoice): (missed: number, spared: number) => boolean {
  const score = scoreOfGoal(goal);
  let top = Number.NEGATIVE_INFINITY;
  let [fewest, most] = [Number.POSITIVE_INFINITY, -1];
  return (missed, spared) => {
    const own = score(missed, spared);
    if (own < top) return false;
    if (own === top && (missed > fewest || (missed === fewest && spared <= most))) return false;
    [top, fewest, most] = [own, missed, spared];
    return true;
  };
}

function admission({
  specificityAtLeast,
  sensitivityAtLeast,
  referralRateAtMost,
}: GridChoice): (misses: number, ill: number, spared: number, well: number) => boolean {
  return (misses, ill, spared, well) => {
    // sums of weights differ from their total by rounding
    const slack = 1e-9 * (ill + well);
    return (
      spared >= specificityAtLeast * well - slack &&
      ill - misses >= sensitivityAtLeast * ill - slack &&
      ill - misses + (well - spared) <= referralRateAtMost * (ill + well) + slack
    );
  };
}
