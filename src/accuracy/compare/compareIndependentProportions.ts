import {
  newcombeIndependent,
  pooledZ,
  requireLevel,
  riskRatioScore,
  twoSidedP,
} from "../../inference/index.js";
import { type Estimate, InputError, type Undefined } from "../../results/index.js";
import { requireCount } from "../requireTable.js";

/** Successes among trials. */
export interface Proportion {
  readonly successes: number;
  readonly trials: number;
}

/** Two proportions of different children. */
export interface IndependentProportions {
  readonly kind: "independent-proportions";
  /** Trials of both groups; null where they came as clustered rates. */
  readonly n: number | null;
  readonly level: number;
  /** Of the difference; the ratio names its own. */
  readonly method: "newcombe" | "mover-clustered";
  /** First minus second (Newcombe 1998, 873-890, method 10). */
  readonly difference: Estimate | Undefined;
  /** First over second (Koopman 1984). */
  readonly ratio: Estimate | Undefined;
  /** Two-sided, pooled z without continuity correction; null when a group is empty. */
  readonly p: number | null;
}

/**
 * Difference and ratio of two proportions in different, independent children.
 *
 * @throws when a count is negative or not whole, or successes exceed trials
 *
 * @example
 * compareIndependentProportions({ first: { successes: 56, trials: 70 }, second: { successes: 48, trials: 80 } }).difference.low // => 0.0524
 */
export function compareIndependentProportions(
  proportions: { readonly first: Proportion; readonly second: Proportion },
  options: { readonly level?: number } = {},
): IndependentProportions {
  const caller = "compareIndependentProportions";
  const { level = 0.95 } = options;
  requireLevel(caller, level);
  for (const name of ["first", "second"] as const) {
    const { successes, trials } = proportions[name];
    requireCount(caller, `${name} successes`, successes);
    requireCount(caller, `${name} trials`, trials);
    if (successes > trials) {
      throw new InputError(
        `${caller} requires ${name} successes up to ${trials}, got ${successes}`,
      );
    }
  }
  const { first, second } = proportions;
  const counts = {
    x1: first.successes,
    n1: first.trials,
    x2: second.successes,
    n2: second.trials,
  };
  return {
    kind: "independent-proportions",
    n: first.trials + second.trials,
    level,
    method: "newcombe",
    difference: newcombeIndependent(counts, level),
    ratio: riskRatioScore(counts, level),
    p: counts.n1 === 0 || counts.n2 === 0 ? null : twoSidedP(pooledZ(counts)),
  };
}
