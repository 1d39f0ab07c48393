import { logEstimate, proportionInterval, requireLevel } from "../inference/index.js";
import {
  type Estimate,
  InputError,
  linearEstimate,
  type Undefined,
  undefinedBecause,
} from "../results/index.js";
import { requireCount } from "./requireTable.js";

/** What a programme knows without examining a single pass. */
export interface ProgrammeCounts {
  readonly screened: number;
  readonly referred: number;
  /** Referred children who were examined. */
  readonly examined: number;
  /** Examined referrals with the condition. */
  readonly withCondition: number;
}

/** Costs in any one currency, as the user gives them. */
export interface ProgrammeCosts {
  readonly perScreening: number;
  readonly perExam: number;
}

/** What a case found costs in referrals, exams and money. */
export interface ReferralYield {
  readonly kind: "referral-yield";
  readonly counts: ProgrammeCounts;
  readonly level: number;
  /** Referrals examined for one case: 1 / positive predictive value. */
  readonly referredPerCase: Estimate | Undefined;
  /** Cases found for 1000 children screened, as the programme ran. */
  readonly foundPer1000: Estimate | Undefined;
  /** Undefined when no costs were given. */
  readonly costPerCase: Estimate | Undefined;
}

/**
 * Number referred for each case found, cases found for 1000 children screened, and, from costs the
 * user gives, the cost of a case found (screening everyone plus examining those who came).
 *
 * The first two by Wilson 1927; the cost is a ratio of sums over children with its interval on the
 * log scale (linearised, multinomial). Costs are taken as known. Missed cases cost nothing here.
 *
 * Counts are children; costs are in the caller's own unit.
 *
 * @throws when a count is negative or not whole, the counts do not nest, or a cost is negative
 *
 * @example
 * referralYield({ screened: 1000, referred: 80, examined: 50, withCondition: 25 }, { costs: { perScreening: 5, perExam: 100 } }).costPerCase.value // => 400
 */
export function referralYield(
  counts: ProgrammeCounts,
  options: { readonly costs?: ProgrammeCosts; readonly level?: number } = {},
): ReferralYield {
  const caller = "referralYield";
  const { costs, level = 0.95 } = options;
  requireLevel(caller, level);
  const { screened, referred, examined, withCondition } = counts;
  for (const [name, count] of Object.entries({ screened, referred, examined, withCondition })) {
    requireCount(caller, name, count);
  }
  if (referred > screened || examined > referred || withCondition > examined) {
    throw new InputError(
      `${caller} requires withCondition <= examined <= referred <= screened, got ${withCondition}, ${examined}, ${referred}, ${screened}`,
    );
  }
  if (costs && !(costs.perScreening >= 0 && costs.perExam >= 0)) {
    throw new InputError(
      `${caller} requires costs of 0 or more, got ${costs.perScreening} and ${costs.perExam}`,
    );
  }
  const found = proportionInterval({ successes: withCondition, trials: screened }, { level });
  return {
    kind: "referral-yield",
    counts: { screened, referred, examined, withCondition },
    level,
    referredPerCase:
      examined === 0
        ? undefinedBecause("no referred child was examined")
        : examsOverCases(
            proportionInterval({ successes: withCondition, trials: examined }, { level }),
          ),
    foundPer1000: linearEstimate(found, 1000),
    costPerCase: costPerCase(counts, costs, level),
  };
}

/** Exams for one case, from the share of the examined who have the condition. */
export function examsOverCases(share: Estimate | Undefined): Estimate | Undefined {
  if (share.kind === "undefined") return share;
  if (share.value === 0) {
    return undefinedBecause("no case was found among the referred", { low: 1 / share.high });
  }
  return { ...share, value: 1 / share.value, low: 1 / share.high, high: 1 / share.low };
}

/** Ratio of cost to cases over children: variance of (cost - ratio x case), both per child. */
function costPerCase(
  { screened, examined, withCondition }: ProgrammeCounts,
  costs: ProgrammeCosts | undefined,
  level: number,
): Estimate | Undefined {
  if (costs === undefined) return undefinedBecause("no costs were given");
  if (withCondition === 0) return undefinedBecause("no case was found");
  const total = costs.perScreening * screened + costs.perExam * examined;
  if (total === 0) return undefinedBecause("both costs are 0");
  const value = total / withCondition;
  const rest = costs.perScreening;
  const falsely = rest + costs.perExam;
  const cases = falsely - value;
  const squares =
    (screened - examined) * rest ** 2 +
    (examined - withCondition) * falsely ** 2 +
    withCondition * cases ** 2;
  return logEstimate(value, Math.sqrt(squares) / total, level, "log");
}
