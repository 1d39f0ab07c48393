import { criteriaOf } from "../criteriaOf.js";
import type { ReferralRule, RuleCriterion } from "../types.js";
import type { RuleColumns, RuleEyeColumns } from "./ruleColumns.js";

type Recorded = Exclude<keyof RuleEyeColumns, "sphere" | "cylinder" | "axis" | "status">;

/** What is looked for beside the prescription, by the column that would hold it. */
const columnOf: Partial<Record<RuleCriterion, Recorded>> = {
  acuity: "acuityLogMAR",
  acuityDifference: "acuityLogMAR",
  strabismus: "strabismus",
  mediaOpacity: "mediaOpacity",
  ptosis: "ptosis",
  pupilDifference: "pupilMm",
};

/**
 * The criteria of a rule of which the data record nothing, of no eye: a child who meets none of the others cannot be
 * decided, so that nobody passes.
 */
export function criteriaNotRecorded(rule: ReferralRule, columns: RuleColumns): RuleCriterion[] {
  const isEmpty = (column: Recorded) =>
    [columns.right, columns.left].every((eye) => eye[column]?.every(Number.isNaN) ?? true);
  const expressions = rule.bands?.map(({ referWhen }) => referWhen) ?? [rule.referWhen!];
  const named = new Set(expressions.flatMap((expression) => criteriaOf(expression, rule)));
  return [...named].filter((criterion) => {
    const column = columnOf[criterion];
    return column !== undefined && isEmpty(column);
  });
}
