import {
  type Estimate,
  formerNames,
  InputError,
  type Undefined,
  undefinedBecause,
} from "../results/index.js";
import { clopperPearsonLimits, jeffreysLimits } from "./betaIntervals.js";
import { normalQuantile } from "./distributions.js";
import { requireLevel } from "./requireLevel.js";
import { agrestiCoullLimits, waldLimits } from "./waldIntervals.js";
import { wilsonCorrectedLimits, wilsonLimits } from "./wilsonInterval.js";

export type ProportionMethod =
  | "wilson"
  | "wilson-cc"
  | "clopper-pearson"
  | "agresti-coull"
  | "jeffreys"
  | "wald";

export interface ProportionIntervalOptions {
  /** "wilson" by default. */
  readonly interval?: ProportionMethod;
  /** 0.95 by default. */
  readonly level?: number;
}

/**
 * A proportion with its two-sided interval, for independent trials.
 *
 * Wilson 1927; with continuity correction, Newcombe 1998; Clopper and Pearson 1934; Agresti and
 * Coull 1998; Jeffreys as in Brown, Cai and DasGupta 2001; Wald is there to reproduce print.
 * Undefined when there are no trials.
 *
 * @throws when a count is negative or not whole, when there are more successes than trials, or the
 * level is not between 0 and 1
 *
 * @example
 * proportionInterval({ successes: 81, trials: 263 }).low // => 0.2553
 */
export function proportionInterval(
  counts: { readonly successes: number; readonly trials: number },
  options: ProportionIntervalOptions = {},
): Estimate | Undefined {
  const { interval = "wilson", level = 0.95 } = formerNames(
    "proportionInterval",
    options,
    "interval",
  );
  const { successes, trials } = counts;
  requireLevel("proportionInterval", level);
  if (!isCount(successes) || !isCount(trials) || successes > trials) {
    throw new InputError(
      `proportionInterval requires whole successes from 0 to trials, got ${successes} of ${trials}`,
    );
  }
  if (!Object.hasOwn(limitsBy, interval)) {
    throw new InputError(
      `proportionInterval requires interval ${Object.keys(limitsBy).join(", ")}, got ${interval}`,
    );
  }
  if (trials === 0) return undefinedBecause("no trials: the denominator is 0");
  const [low, high] = limitsBy[interval](successes, trials, 1 - level);
  return { kind: "estimate", value: successes / trials, low, high, level, method: interval };
}

const limitsBy: Record<
  ProportionMethod,
  (x: number, n: number, alpha: number) => [number, number]
> = {
  wilson: (x, n, alpha) => wilsonLimits(x, n, twoSided(alpha)),
  "wilson-cc": (x, n, alpha) => wilsonCorrectedLimits(x, n, twoSided(alpha)),
  "clopper-pearson": clopperPearsonLimits,
  "agresti-coull": (x, n, alpha) => agrestiCoullLimits(x, n, twoSided(alpha)),
  jeffreys: jeffreysLimits,
  wald: (x, n, alpha) => waldLimits(x, n, twoSided(alpha)),
};

const twoSided = (alpha: number): number => normalQuantile(1 - alpha / 2);

const isCount = (value: number): boolean => Number.isSafeInteger(value) && value >= 0;
