import type { ConditionResult } from "../run/studyResult.js";

/** What a condition says of itself, without a count. */
export type ConditionWords = Pick<
  ConditionResult,
  "id" | "title" | "role" | "definition" | "citation" | "caution" | "target" | "referWhen"
> & {
  readonly rules: Pick<
    NonNullable<ConditionResult["rules"]>,
    "refer" | "condition" | "notRecorded"
  > | null;
};

export function wordsOf(condition: ConditionResult): ConditionWords {
  const { id, title, role, definition, citation, caution, target, referWhen, rules } = condition;
  return {
    id,
    title,
    role,
    definition,
    citation,
    caution,
    target,
    referWhen,
    rules: rules && {
      refer: rules.refer,
      condition: rules.condition,
      // what no file holds a column for; no count
      ...(rules.notRecorded && { notRecorded: rules.notRecorded }),
    },
  };
}
