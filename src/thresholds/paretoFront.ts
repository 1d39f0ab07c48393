import { InputError, type TwoByTwo } from "../results/index.js";
import { limitsOfRule, tableOfRule } from "./ruleAt.js";
import type { RuleSpace } from "./ruleSpace.js";

/** One rule with its table and rates; null in limits is "switched off". */
export interface RulePoint {
  readonly limits: { readonly [criterion: string]: number | null };
  readonly table: TwoByTwo;
  readonly sensitivity: number;
  readonly specificity: number;
}

/** The rules that no other rule beats in both sensitivity and specificity. */
export interface RuleFront {
  readonly kind: "ruleFront";
  readonly n: number;
  readonly rules: number;
  readonly criteria: readonly string[];
  /** By falling specificity and rising sensitivity, one rule for each distinct pair of rates. */
  readonly points: readonly RulePoint[];
}

/**
 * The Pareto front of sensitivity against specificity over a rule space.
 *
 * Where several rules share both rates, the one with the lowest limits in the order of the
 * criteria stands for them.
 *
 * @param space from `ruleSpace`
 * @throws when the space has no child with, or none without, the condition
 */
export function paretoFront(space: RuleSpace): RuleFront {
  const { misses, spared } = ratesAlong(space, "paretoFront");
  const points = frontOf(misses, spared).map((rule) => rulePoint(space, rule));
  return { kind: "ruleFront", n: space.n, rules: space.rules, criteria: space.criteria, points };
}

/** A rule of the space as plain data. */
export function rulePoint(space: RuleSpace, rule: number): RulePoint {
  const table = tableOfRule(space, rule);
  return {
    limits: limitsOfRule(space, rule),
    table,
    sensitivity: table.truePositive / (table.truePositive + table.falseNegative),
    specificity: table.trueNegative / (table.trueNegative + table.falsePositive),
  };
}

/**
 * Two arrays that order the rules: misses (lower is better) and spared (higher is better). They are
 * the plain counts where every rule has the same denominators, and rates where it has not; a rule
 * with a rate that has no denominator gets infinite misses and is never on the front.
 */
export function ratesAlong(
  space: RuleSpace,
  caller: string,
): { misses: ArrayLike<number>; spared: ArrayLike<number> } {
  const { withCondition, withoutCondition } = space;
  if (!(withCondition.total > 0) || !(withoutCondition.total > 0)) {
    throw new InputError(
      `${caller} requires children with and without the condition, got ${withCondition.total} and ${withoutCondition.total}`,
    );
  }
  if (withCondition.undecidable === null && withoutCondition.undecidable === null) {
    return { misses: withCondition.passed, spared: withoutCondition.passed };
  }
  const misses = new Float64Array(space.rules).fill(Number.POSITIVE_INFINITY);
  const spared = new Float64Array(space.rules).fill(-1);
  for (let rule = 0; rule < space.rules; rule++) {
    const sick = withCondition.total - (withCondition.undecidable?.[rule] ?? 0);
    const healthy = withoutCondition.total - (withoutCondition.undecidable?.[rule] ?? 0);
    if (!(sick > 0) || !(healthy > 0)) continue;
    misses[rule] = withCondition.passed[rule] / sick;
    spared[rule] = withoutCondition.passed[rule] / healthy;
  }
  return { misses, spared };
}

const buckets = 4096;

/**
 * Flat indices of the rules on the front, by falling `spared`. Two passes without sorting all: the
 * fewest misses per bucket of `spared` first, then only the few rules that beat every higher bucket.
 */
export function frontOf(misses: ArrayLike<number>, spared: ArrayLike<number>): number[] {
  const n = misses.length;
  let most = 0;
  for (let rule = 0; rule < n; rule++) if (spared[rule] > most) most = spared[rule];
  const scale = most > 0 ? buckets / most : 0;
  const fewest = new Float64Array(buckets + 2).fill(Number.POSITIVE_INFINITY);
  for (let rule = 0; rule < n; rule++) {
    const bucket = spared[rule] > 0 ? Math.floor(spared[rule] * scale) : 0;
    if (misses[rule] < fewest[bucket]) fewest[bucket] = misses[rule];
  }
  // fewest[b] becomes the fewest misses in any bucket above b
  let best = Number.POSITIVE_INFINITY;
  for (let bucket = buckets + 1; bucket >= 0; bucket--) {
    const own = fewest[bucket];
    fewest[bucket] = best;
    if (own < best) best = own;
  }
  const candidates: number[] = [];
  for (let rule = 0; rule < n; rule++) {
    const bucket = spared[rule] > 0 ? Math.floor(spared[rule] * scale) : 0;
    if (misses[rule] >= fewest[bucket]) continue;
    candidates.push(rule);
    if (candidates.length > 2_000_000) prune(candidates, misses, spared);
  }
  prune(candidates, misses, spared);
  return candidates;
}

/** Keeps only the front of the candidates, sorted, in place. */
function prune(candidates: number[], misses: ArrayLike<number>, spared: ArrayLike<number>): void {
  candidates.sort((a, b) => spared[b] - spared[a] || misses[a] - misses[b] || a - b);
  let best = Number.POSITIVE_INFINITY;
  let kept = 0;
  for (const rule of candidates) {
    if (misses[rule] < best) {
      best = misses[rule];
      candidates[kept++] = rule;
    }
  }
  candidates.length = kept;
}
