import {
  type McNemar,
  mcnemar,
  newcombePaired,
  type PairedCounts,
  proportionInterval,
  requireLevel,
  tangoPaired,
} from "../../inference/index.js";
import { type Estimate, formerNames, type Undefined } from "../../results/index.js";
import { requireCount, requireWord } from "../requireTable.js";

/** How the interval of a paired difference is made. */
export type PairedMethod = "newcombe" | "tango";

/** Two proportions of the same units and their difference, first minus second. */
export interface PairedProportions extends McNemar {
  readonly kind: "paired-proportions";
  readonly counts: PairedCounts;
  readonly n: number;
  readonly level: number;
  readonly method: PairedMethod;
  readonly first: Estimate | Undefined;
  readonly second: Estimate | Undefined;
  readonly difference: Estimate | Undefined;
}

/**
 * Two yes/no results of the same independent units, such as two rules on the same children.
 *
 * The difference is first minus second: square-and-add of Wilson's limits (Newcombe 1998, method
 * 10) or the score interval of Tango 1998. McNemar's test by chi-square without correction, exact,
 * and mid-p, the one to prefer (Fagerland, Lydersen and Laake 2013).
 *
 * Rates are proportions, 0 to 1.
 *
 * @throws when a count is negative or not whole, or the level or method is unknown
 *
 * @example
 * comparePairedProportions({ both: 1, firstOnly: 1, secondOnly: 7, neither: 12 }).pMid // => 0.0391
 */
export function comparePairedProportions(
  counts: PairedCounts,
  options: { readonly level?: number; readonly interval?: PairedMethod } = {},
): PairedProportions {
  const caller = "comparePairedProportions";
  options = formerNames(caller, options, "interval");
  const { level = 0.95, interval = "newcombe" } = options;
  requireLevel(caller, level);
  requireWord(caller, "interval", ["newcombe", "tango"], interval);
  const { both, firstOnly, secondOnly, neither } = counts;
  for (const [name, count] of Object.entries({ both, firstOnly, secondOnly, neither })) {
    requireCount(caller, name, count);
  }
  const n = both + firstOnly + secondOnly + neither;
  const share = (successes: number) => proportionInterval({ successes, trials: n }, { level });
  return {
    kind: "paired-proportions",
    counts: { both, firstOnly, secondOnly, neither },
    n,
    level,
    method: interval,
    first: share(both + firstOnly),
    second: share(both + secondOnly),
    difference: (interval === "tango" ? tangoPaired : newcombePaired)(counts, level),
    ...mcnemar(firstOnly, secondOnly),
  };
}
