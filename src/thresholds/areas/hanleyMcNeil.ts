import type { ValueCounts } from "../countByValue.js";

/**
 * Variance of an area by Hanley and McNeil 1982: Q1 is the probability that two rows with the
 * condition both outrank one without it, Q2 that one with it outranks two without, ties split as in
 * their Table II (both tied counts 1/3).
 */
export function hanleyMcNeilVariance(counts: ValueCounts, area: number): number {
  const { withCondition, withoutCondition, totalWith, totalWithout } = counts;
  let twoCases = 0;
  let twoControls = 0;
  let casesBefore = 0;
  let controlsBefore = 0;
  for (let cell = 0; cell < withCondition.length; cell++) {
    const cases = withCondition[cell];
    const controls = withoutCondition[cell];
    const controlsAfter = totalWithout - controlsBefore - controls;
    twoCases += controls * (casesBefore ** 2 + casesBefore * cases + cases ** 2 / 3);
    twoControls += cases * (controlsAfter ** 2 + controlsAfter * controls + controls ** 2 / 3);
    casesBefore += cases;
    controlsBefore += controls;
  }
  const q1 = twoCases / (totalWithout * totalWith ** 2);
  const q2 = twoControls / (totalWith * totalWithout ** 2);
  const square = area ** 2;
  return (
    (area * (1 - area) + (totalWith - 1) * (q1 - square) + (totalWithout - 1) * (q2 - square)) /
    (totalWith * totalWithout)
  );
}
