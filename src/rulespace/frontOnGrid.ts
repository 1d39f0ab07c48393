import {
  eachRun,
  emptyEnvelope,
  extendEnvelope,
  hasEnvelope,
  type RuleEnvelope,
} from "./ruleEnvelope.js";
import type { FrontAgainst } from "./ruleGoal.js";
import { costOf } from "./ruleGoal.js";
import type { GridCounts } from "./ruleGrid.js";
import { frontOf } from "./sortedFront.js";

/**
 * Indices of the rules that no other beats both in misses and in what is set against them, by
 * rising misses backwards: the rule that misses most comes first. Of rules that share both, the one
 * with the lowest limits in the order of the axes stands for all.
 */
export function frontOnGrid(
  grid: GridCounts,
  against: FrontAgainst,
  whole?: RuleEnvelope,
): number[] {
  if (!hasEnvelope(grid)) {
    const { misses, gains } = ratesAlong(grid, against);
    return frontOf(misses, gains);
  }
  const envelope = whole ?? envelopeOfGrid(grid);
  return frontOnEnvelope(envelope, against).map((misses) => envelope.rule[misses]);
}

/** The same over the rules whose limits lie among the first `allowed` of each axis. */
export function frontWithin(
  grid: GridCounts,
  against: FrontAgainst,
  allowed: readonly number[],
): number[] {
  if (hasEnvelope(grid)) {
    const envelope = envelopeOfGrid(grid, allowed);
    return frontOnEnvelope(envelope, against).map((misses) => envelope.rule[misses]);
  }
  const { misses, gains } = ratesAlong(grid, against);
  const own = new Float64Array(grid.rules).fill(Number.POSITIVE_INFINITY);
  eachRun({ sizes: grid.sizes, allowed }, (from, to) => {
    for (let rule = from; rule < to; rule++) own[rule] = misses[rule];
  });
  return frontOf(own, gains);
}

/** One look at every rule, or at those among the first `allowed` limits of each axis. */
export function envelopeOfGrid(
  { sizes, withCondition, withoutCondition }: GridCounts,
  allowed: readonly number[] = sizes,
): RuleEnvelope {
  const envelope = emptyEnvelope(withCondition.total, withoutCondition.total);
  extendEnvelope(
    envelope,
    withCondition.passed as Int32Array,
    withoutCondition.passed as Int32Array,
    { sizes, allowed },
  );
  return envelope;
}

/** Numbers of misses on the front; every front takes, at each number, the most spared. */
export function frontOnEnvelope(
  { totalWith, totalWithout, mostSpared }: RuleEnvelope,
  against: FrontAgainst,
): number[] {
  const gain = gainOf(against, totalWith, totalWithout);
  const front: number[] = [];
  let best = Number.NEGATIVE_INFINITY;
  for (let misses = 0; misses <= totalWith; misses++) {
    if (mostSpared[misses] < 0) continue;
    const own = gain(misses, mostSpared[misses]);
    if (own <= best) continue;
    best = own;
    front.push(misses);
  }
  return front.reverse();
}

/** What the front sets against misses, higher is better, never below 0. */
function gainOf(
  against: FrontAgainst,
  ill: number,
  well: number,
): (misses: number, spared: number) => number {
  if (against === "specificity") return (_, spared) => spared;
  if (against === "referralRate") return (misses, spared) => misses + spared;
  const cost = costOf(against.cost);
  const most = cost(1, 0);
  return (misses, spared) => most - cost(misses / ill, spared / well);
}

/**
 * Two arrays that order the rules: misses (lower is better) and gains (higher is better), as rates
 * where rules differ in their denominators. A rule with a rate that has no denominator gets infinite
 * misses and is never on the front.
 */
function ratesAlong(
  { rules, withCondition, withoutCondition }: GridCounts,
  against: FrontAgainst,
): { misses: ArrayLike<number>; gains: ArrayLike<number> } {
  const same = withCondition.undecidable === null && withoutCondition.undecidable === null;
  if (same && against === "specificity") {
    return { misses: withCondition.passed, gains: withoutCondition.passed };
  }
  const misses = new Float64Array(rules).fill(Number.POSITIVE_INFINITY);
  const gains = new Float64Array(rules).fill(-1);
  for (let rule = 0; rule < rules; rule++) {
    const ill = withCondition.total - (withCondition.undecidable?.[rule] ?? 0);
    const well = withoutCondition.total - (withoutCondition.undecidable?.[rule] ?? 0);
    if (!(ill > 0) || !(well > 0)) continue;
    const [missed, spared] = [withCondition.passed[rule], withoutCondition.passed[rule]];
    misses[rule] = missed / ill;
    gains[rule] =
      against === "specificity"
        ? spared / well
        : against === "referralRate"
          ? (missed + spared) / (ill + well)
          : gainOf(against, ill, well)(missed, spared);
  }
  return { misses, gains };
}
