import { requireLevel, symmetricEstimate } from "../inference/index.js";
import {
  type Estimate,
  formerNames,
  InputError,
  type TwoByTwo,
  type Undefined,
  undefinedBecause,
} from "../results/index.js";
import { sumOf, verificationShares } from "./verification/verificationShares.js";
import {
  type PooledCounts,
  pooledStratum,
  type Stratum,
  type Unverified,
  verificationStrata,
} from "./verification/verificationStrata.js";

/** Net benefit at one threshold probability, per child screened. */
export interface NetBenefitPoint {
  /** Probability at which a referral is worth its cost: odds t/(1 - t) cases for each false referral. */
  readonly thresholdProbability: number;
  readonly netBenefit: Estimate | Undefined;
  readonly referAll: Estimate | Undefined;
  readonly referNone: Estimate | Undefined;
  /** Referrals avoided per child against referring all, cases missed charged for. */
  readonly referralsAvoided: Estimate | Undefined;
}

/** A rule as a line over threshold probabilities. */
export interface NetBenefit {
  readonly kind: "net-benefit";
  readonly n: number;
  /** The counts behind the lines, strata added up. */
  readonly counts: PooledCounts;
  readonly level: number;
  readonly method: string;
  readonly points: readonly NetBenefitPoint[];
}

/**
 * Net benefit of one referral rule, TP/n - FP/n x t/(1 - t), over threshold probabilities t (Vickers
 * and Elkin 2006). A limit in dioptres is not a probability: one rule is one line over all t, and
 * rules are compared at the t that the reader finds right.
 *
 * With `unverified` children, the examined stand for the unexamined of the same test result (and
 * stratum): the rule's own net benefit needs only examined referrals. Referring all or none is shown
 * only where the prevalence is known, that is where passes were examined. Intervals are symmetric,
 * with the multinomial variance, for independent rows.
 *
 * @param counts `table`, or `verified` and `unverified` as in `correctVerification`
 * @param options `thresholdProbabilities` between 0 and 1 (0 itself allowed); 0.01, 0.02, ... 0.5 by default
 * @throws when counts or thresholds are invalid
 *
 * @example
 * netBenefit({ table: { truePositive: 8, falsePositive: 12, falseNegative: 2, trueNegative: 78 } }, { thresholdProbabilities: [0.2] }).points[0].netBenefit.value // => 0.05
 */
export function netBenefit(
  counts:
    | { readonly table: TwoByTwo }
    | {
        readonly verified: TwoByTwo | readonly TwoByTwo[];
        readonly unverified: Unverified | readonly Unverified[];
      },
  options: { readonly thresholdProbabilities?: ArrayLike<number>; readonly level?: number } = {},
): NetBenefit {
  const caller = "netBenefit";
  options = formerNames(caller, options, "netBenefit");
  const { level = 0.95 } = options;
  requireLevel(caller, level);
  const strata = verificationStrata(
    caller,
    "table" in counts
      ? { verified: counts.table, unverified: { testPositive: 0, testNegative: 0 } }
      : counts,
  );
  const probabilities = Array.from(options.thresholdProbabilities ?? usualProbabilities);
  const strange = probabilities.find((t) => !(t >= 0 && t < 1));
  if (strange !== undefined) {
    throw new InputError(
      `${caller} requires thresholdProbabilities from 0 to below 1, got ${strange}`,
    );
  }
  const n = strata.reduce((sum, s) => sum + s.positives + s.negatives, 0);
  const pooled = pooledStratum(strata);
  return {
    kind: "net-benefit",
    n,
    counts: { verified: pooled.verified, unverified: pooled.unverified },
    level,
    method: "symmetric",
    points: probabilities.map((probability) => pointAt(strata, n, probability, level)),
  };
}

const usualProbabilities = Array.from({ length: 50 }, (_, i) => (i + 1) / 100);

function pointAt(
  strata: readonly Stratum[],
  n: number,
  probability: number,
  level: number,
): NetBenefitPoint {
  const odds = probability / (1 - probability);
  const blindReferred = strata.some((s) => s.positives > 0 && s.examinedPositives === 0);
  const blindPassed = strata.some((s) => s.negatives > 0 && s.examinedNegatives === 0);
  const unknown = (who: string) =>
    undefinedBecause(n === 0 ? "no children" : `no child who ${who} was examined`);
  const rule =
    blindReferred || n === 0
      ? unknown("was referred")
      : gain(referredOf(strata), n, { start: -odds, slope: 1 + odds }, level);
  if (blindReferred || blindPassed || n === 0) {
    const noPrevalence = blindPassed
      ? undefinedBecause("the prevalence is not known: no child who passed was examined")
      : unknown("was referred");
    return {
      thresholdProbability: probability,
      netBenefit: rule,
      referAll: noPrevalence,
      referNone: noPrevalence,
      referralsAvoided: noPrevalence,
    };
  }
  const { truePositive, falseNegative } = verificationShares(strata);
  const prevalence = sumOf(truePositive, falseNegative, n);
  const all = prevalence.value - (1 - prevalence.value) * odds;
  return {
    thresholdProbability: probability,
    netBenefit: rule,
    referAll: symmetricEstimate(all, (1 + odds) * Math.sqrt(prevalence.variance), level),
    referNone: { kind: "estimate", value: 0, low: 0, high: 0, level, method: "by definition" },
    referralsAvoided:
      probability === 0
        ? undefinedBecause("at a threshold probability of 0 a referral costs nothing")
        : gain(passedOf(strata), n, { start: 1, slope: -(1 + 1 / odds) }, level),
  };
}

/** Sum over strata of size times (start + slope x rate of the condition), as an estimate. */
function gain(
  parts: readonly { readonly total: number; readonly cases: number; readonly examined: number }[],
  n: number,
  line: { readonly start: number; readonly slope: number },
  level: number,
): Estimate {
  let value = 0;
  let squares = 0;
  let within = 0;
  for (const { total, cases, examined } of parts) {
    if (total === 0) continue;
    const size = total / n;
    const rate = cases / examined;
    const each = line.start + line.slope * rate;
    value += size * each;
    squares += size * each ** 2;
    within += ((size * line.slope) ** 2 * rate * (1 - rate)) / examined;
  }
  return symmetricEstimate(value, Math.sqrt((squares - value ** 2) / n + within), level);
}

const referredOf = (strata: readonly Stratum[]) =>
  strata.map(({ positives, verified, examinedPositives }) => ({
    total: positives,
    cases: verified.truePositive,
    examined: examinedPositives,
  }));

const passedOf = (strata: readonly Stratum[]) =>
  strata.map(({ negatives, verified, examinedNegatives }) => ({
    total: negatives,
    cases: verified.falseNegative,
    examined: examinedNegatives,
  }));
