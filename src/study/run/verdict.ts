import { type Criterion, criteriaOf } from "../../protocol/index.js";
import type { Estimate, Undefined } from "../../results/index.js";

export type Verdict = "met" | "not met" | "cannot be said";

/** One thing that was asked in advance, what was found, and whether it was met. */
export interface CriterionVerdict<Found> extends Criterion {
  readonly found: Found;
  readonly verdict: Verdict;
}

/** What a study says of its criteria: met where all are, not met where one is not. */
export interface StudyVerdict<Found = Estimate | Undefined> {
  readonly kind: "verdict";
  readonly verdict: Verdict;
  readonly criteria: readonly CriterionVerdict<Found>[];
}

/**
 * Whether "at least" is met: met where the whole interval lies above what was asked, not met where it
 * lies below; where the interval holds it, or there is none, it cannot be said.
 */
export function verdictOn(
  interval: { readonly low: number; readonly high: number } | null,
  least: number,
): Verdict {
  if (interval === null) return "cannot be said";
  if (interval.low > least) return "met";
  return interval.high < least ? "not met" : "cannot be said";
}

/** The verdict on all criteria of a protocol; null where it states none. */
export function verdictOnAll<Found>(
  protocol: Parameters<typeof criteriaOf>[0],
  findingOf: (criterion: Criterion) => {
    readonly found: Found;
    readonly interval: Parameters<typeof verdictOn>[0];
  },
): StudyVerdict<Found> | null {
  const criteria = criteriaOf(protocol).map((criterion): CriterionVerdict<Found> => {
    const { found, interval } = findingOf(criterion);
    return { ...criterion, found, verdict: verdictOn(interval, criterion.least) };
  });
  if (criteria.length === 0) return null;
  const is = (verdict: Verdict) => (one: { readonly verdict: Verdict }) => one.verdict === verdict;
  return {
    kind: "verdict",
    verdict: criteria.every(is("met"))
      ? "met"
      : criteria.some(is("not met"))
        ? "not met"
        : "cannot be said",
    criteria,
  };
}
