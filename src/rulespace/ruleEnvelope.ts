import type { RuleCounts } from "./ruleSpace.js";

/**
 * The most children without the condition that a rule spares at each number of misses, and the
 * first rule that does so. With whole counts and one denominator for all rules this table answers
 * every question that asks for few misses and many spared, and one look at each rule fills it.
 */
export interface RuleEnvelope {
  readonly totalWith: number;
  readonly totalWithout: number;
  /** By number of misses, 0 to totalWith; -1 where no rule has that number. */
  readonly mostSpared: Int32Array;
  readonly rule: Float64Array;
}

export function emptyEnvelope(totalWith: number, totalWithout: number): RuleEnvelope {
  return {
    totalWith,
    totalWithout,
    mostSpared: new Int32Array(totalWith + 1).fill(-1),
    rule: new Float64Array(totalWith + 1).fill(-1),
  };
}

/** Whether the counts are whole numbers with one denominator, so that an envelope serves. */
export function hasEnvelope({
  withCondition,
  withoutCondition,
}: {
  readonly withCondition: RuleCounts;
  readonly withoutCondition: RuleCounts;
}): boolean {
  return (
    withCondition.passed instanceof Int32Array &&
    withoutCondition.passed instanceof Int32Array &&
    withCondition.undecidable === null &&
    withoutCondition.undecidable === null
  );
}

/**
 * Takes all rules of a grid into the envelope, or those whose limits lie among the first
 * `allowed` of each axis.
 *
 * @param first number of the first rule of the arrays (a slab of a larger grid)
 */
export function extendEnvelope(
  envelope: RuleEnvelope,
  passedWith: Int32Array,
  passedWithout: Int32Array,
  box: { readonly sizes: readonly number[]; readonly allowed: readonly number[] },
  first = 0,
): void {
  const { mostSpared, rule } = envelope;
  eachRun(box, (from, to) => {
    for (let at = from; at < to; at++) {
      const misses = passedWith[at];
      const spared = passedWithout[at];
      if (spared > mostSpared[misses]) {
        mostSpared[misses] = spared;
        rule[misses] = first + at;
      }
    }
  });
}

/** Calls back with each run of neighbouring rules of a box, in order. */
export function eachRun(
  { sizes, allowed }: { readonly sizes: readonly number[]; readonly allowed: readonly number[] },
  take: (from: number, to: number) => void,
): void {
  let restricted = sizes.length;
  while (restricted > 0 && allowed[restricted - 1] === sizes[restricted - 1]) restricted--;
  const run = sizes.slice(restricted).reduce((product, size) => product * size, 1);
  const walk = (axis: number, start: number): void => {
    if (axis === restricted) {
      take(start * run, (start + 1) * run);
    } else if (axis === restricted - 1) {
      take(start * sizes[axis] * run, (start * sizes[axis] + allowed[axis]) * run);
    } else {
      for (let at = 0; at < allowed[axis]; at++) walk(axis + 1, start * sizes[axis] + at);
    }
  };
  walk(0, 0);
}
