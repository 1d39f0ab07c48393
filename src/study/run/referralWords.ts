import type { ConditionResult } from "./studyResult.js";

/** "at M <= -3.00 D", or "by the rule ...". */
export function referralWords({
  referWhen,
  rules,
}: Pick<ConditionResult, "referWhen"> & {
  readonly rules: { readonly refer: unknown } | null;
}): string {
  return `${rules?.refer ? "by" : "at"} ${referWhen}`;
}

/** What a protocol does with whom the reading cannot decide, in words. */
export const policyWords = {
  refer: "counted as referred",
  pass: "counted as passed",
  exclude: "left out",
} as const;
