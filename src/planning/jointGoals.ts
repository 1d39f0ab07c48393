import { binomialMean } from "./binomialWindow.js";
import { type Goal, goalPower } from "./goalPower.js";

/** What becomes of the children of a cohort. */
interface CohortShares {
  readonly prevalence: number;
  /** Share without a usable reading and finding. */
  readonly lost: number;
}

/**
 * The chance that a cohort reaches all its goals, as a function of its size: the mean of the exact
 * power over the numbers with and without the condition that the cohort may hold, since nobody can
 * fix these beforehand. Given the numbers, sensitivity and specificity come from different children
 * and their chances multiply.
 */
export function jointGoals(
  goals: { readonly sensitivity?: Goal; readonly specificity?: Goal },
  { prevalence, lost }: CohortShares,
): (n: number) => number {
  const withCondition = remembered((n) =>
    goals.sensitivity === undefined ? 1 : n === 0 ? 0 : goalPower(n, goals.sensitivity),
  );
  const without = remembered((n) =>
    goals.specificity === undefined ? 1 : n === 0 ? 0 : goalPower(n, goals.specificity),
  );
  const ofAnalysed = remembered((n) =>
    binomialMean(n, prevalence, (cases) => withCondition(cases) * without(n - cases)),
  );
  return remembered((n) => binomialMean(n, 1 - lost, ofAnalysed));
}

function remembered(compute: (n: number) => number): (n: number) => number {
  const known = new Map<number, number>();
  return (n) => {
    const before = known.get(n);
    if (before !== undefined) return before;
    const value = compute(n);
    known.set(n, value);
    return value;
  };
}

/** The chance that a cohort of n holds at least so many rows with and without the condition. */
export function chanceOfRows(
  n: number,
  { prevalence, lost }: CohortShares,
  needed: { readonly withCondition: number; readonly withoutCondition: number },
): number {
  return binomialMean(n, 1 - lost, (analysed) =>
    binomialMean(analysed, prevalence, (cases) =>
      cases >= needed.withCondition && analysed - cases >= needed.withoutCondition ? 1 : 0,
    ),
  );
}
