import { type Problem, problemsByRule } from "../../cohort/index.js";
import type { ProblemCount } from "./studyResult.js";

/** Problems as counts by rule and action: no cell and no row leaves the machine in a report. */
export function countProblems(
  source: ProblemCount["source"],
  problems: readonly Problem[],
): ProblemCount[] {
  return problemsByRule(problems).rules.map((entry) => ({ source, ...entry }));
}
