import { logEstimate, mcnemar, requireLevel } from "../../inference/index.js";
import { type Estimate, type Undefined, undefinedBecause } from "../../results/index.js";
import { requireCount } from "../requireTable.js";

/** Children positive on one rule or both, on one side of the condition. */
export interface PositiveOnEither {
  readonly both: number;
  readonly firstOnly: number;
  readonly secondOnly: number;
}

/** What can be compared when nobody negative on both rules was examined. */
export interface RelativeRates {
  readonly kind: "relative-rates";
  readonly level: number;
  /** Children with a known condition. */
  readonly n: number;
  /** Sensitivity of the first rule over that of the second. */
  readonly truePositiveRatio: Estimate | Undefined;
  /** False positive rate of the first rule over that of the second. */
  readonly falsePositiveRatio: Estimate | Undefined;
  /** McNemar's mid-p of equal sensitivities, and of equal false positive rates. */
  readonly pTruePositive: number;
  readonly pFalsePositive: number;
  /** Additional false referrals for each additional case, first against second; null when no case is gained. */
  readonly falsePerCase: number | null;
}

/**
 * Relative true and false positive rates of two rules on the same children when only those positive
 * on either rule were examined: the children negative on both cancel from the ratios (Schatzkin
 * and others, Am J Epidemiol 1987;125:672-678; Pepe and Alonzo, Biostatistics 2001;2:249-260). Ratios
 * are first over second.
 *
 * Relative rates are ratios of proportions.
 *
 * @throws when a count is negative or not whole
 *
 * @example
 * relativeRates({ withCondition: { both: 40, firstOnly: 10, secondOnly: 4 }, withoutCondition: { both: 20, firstOnly: 12, secondOnly: 12 } }).truePositiveRatio.value // => 1.1364
 */
export function relativeRates(
  counts: { readonly withCondition: PositiveOnEither; readonly withoutCondition: PositiveOnEither },
  options: { readonly level?: number } = {},
): RelativeRates {
  const caller = "relativeRates";
  const { level = 0.95 } = options;
  requireLevel(caller, level);
  for (const side of ["withCondition", "withoutCondition"] as const) {
    for (const cell of ["both", "firstOnly", "secondOnly"] as const) {
      requireCount(caller, `${side} ${cell}`, counts[side][cell]);
    }
  }
  const { withCondition, withoutCondition } = counts;
  const gained = withCondition.firstOnly - withCondition.secondOnly;
  return {
    kind: "relative-rates",
    level,
    n: total(withCondition) + total(withoutCondition),
    truePositiveRatio: ratio(withCondition, level),
    falsePositiveRatio: ratio(withoutCondition, level),
    pTruePositive: mcnemar(withCondition.firstOnly, withCondition.secondOnly).pMid,
    pFalsePositive: mcnemar(withoutCondition.firstOnly, withoutCondition.secondOnly).pMid,
    falsePerCase:
      gained > 0 ? (withoutCondition.firstOnly - withoutCondition.secondOnly) / gained : null,
  };
}

const total = ({ both, firstOnly, secondOnly }: PositiveOnEither) => both + firstOnly + secondOnly;

/** Variance of the log ratio of two paired proportions: discordant / (first x second). */
function ratio(counts: PositiveOnEither, level: number): Estimate | Undefined {
  const first = counts.both + counts.firstOnly;
  const second = counts.both + counts.secondOnly;
  if (first === 0 || second === 0) return undefinedBecause("a rule found nobody on this side");
  const discordant = counts.firstOnly + counts.secondOnly;
  if (discordant === 0) return undefinedBecause("the two rules agree on everyone: no variance");
  return logEstimate(first / second, Math.sqrt(discordant / (first * second)), level, "log");
}
