import type { ConditionResult } from "./studyResult.js";

/** "at M <= -3.00 D", or "by the rule ...". */
export function referralWords({ referWhen, rules }: ConditionResult): string {
  return `${rules?.refer ? "by" : "at"} ${referWhen}`;
}
