import { sampleCorrelation } from "simple-statistics";
import { eyePairs } from "../link/eyePairs.js";
import { problemRules } from "../problemLog.js";
import type { Cohort, Problem } from "../types.js";

/** Fewer children, or eyes, than this say nothing about a whole file. */
const least = 20;

/**
 * What only both sources together can show: right and left exchanged in one of them (the difference
 * between the eyes in M correlates negatively with that of the findings), or a cylinder convention
 * reversed (J0 correlates negatively with that of the findings, as when axes belong to the other
 * sign). Listed for the whole file, never repaired; none where fewer than 20 pairs speak.
 *
 * @example
 * const eye = { subject: "a", eye: "OD", sphere: -1, cylinder: 0, axis: 0 };
 * const cohort = linkCohort({ readings: await readReadings([eye]), findings: await readFindings([eye]) });
 * suspectedMismatches(cohort) // => []
 */
export function suspectedMismatches(cohort: Cohort): Problem[] {
  const problems: Problem[] = [];
  const M = eyePairs(cohort, { eyes: "both", quantity: "M" });
  const test: number[] = [];
  const reference: number[] = [];
  for (let row = 0; row + 1 < M.n; row++) {
    if (M.subjects[row] !== M.subjects[row + 1]) continue;
    test.push(M.test[row] - M.test[row + 1]);
    reference.push(M.reference[row] - M.reference[row + 1]);
  }
  add("eyes-swapped", test, reference);
  const J0 = eyePairs(cohort, { eyes: "right", quantity: "J0" });
  add("cylinder-convention", [...J0.test], [...J0.reference]);
  return problems;

  function add(
    rule: "eyes-swapped" | "cylinder-convention",
    values: number[],
    others: number[],
  ): void {
    if (values.length < least) return;
    const correlation = sampleCorrelation(values, others);
    // three standard errors below zero, about 1/sqrt(n) each
    if (!(correlation < -3 / Math.sqrt(values.length))) return;
    problems.push({
      file: "readings and findings",
      row: null,
      column: null,
      value: `correlation ${correlation.toFixed(2)}, n ${values.length}`,
      rule,
      message: problemRules[rule],
      action: "kept",
    });
  }
}
