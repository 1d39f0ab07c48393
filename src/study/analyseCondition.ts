import { accuracyFromCounts, crossClassify } from "../accuracy/index.js";
import { type Cohort, childValues, eyePairs } from "../cohort/index.js";
import type { Protocol, ProtocolCondition } from "../protocol/index.js";
import { undefinedBecause } from "../results/index.js";
import { areaUnderCurve, rocCurve } from "../thresholds/index.js";
import { limitWords, meets } from "./limit.js";
import type { ConditionResult } from "./studyResult.js";

/** Accuracy of the referral limit fixed in advance against one target condition. */
export function analyseCondition(
  cohort: Cohort,
  protocol: Protocol,
  condition: ProtocolCondition,
): ConditionResult {
  const { level, verification, sampling } = protocol;
  const rows = comparedRows(cohort, protocol, condition);
  const withCondition = Array.from(rows.reference, (value) => meets(value, condition.target));
  const referred = Array.from(rows.test, (value) => meets(value, condition.referWhen));
  const table = crossClassify({ test: referred, reference: withCondition });
  const positiveWhen = condition.target.relation.startsWith(">") ? "high" : "low";
  const values = { values: rows.test, condition: withCondition };
  const bothClasses = withCondition.includes(true) && withCondition.includes(false);
  const missing = undefinedBecause("all children are with, or all without, the condition");
  return {
    id: condition.id,
    title: condition.title,
    role: condition.role,
    definition: condition.definition,
    citation: condition.citation ?? null,
    caution: condition.caution ?? null,
    target: limitWords(condition.target),
    referWhen: limitWords(condition.referWhen),
    n: rows.test.length,
    children: new Set(rows.subjects).size,
    excluded: rows.excluded,
    table,
    accuracy: accuracyFromCounts(table, { level, verification, sampling }),
    curve: bothClasses ? rocCurve(values, { positiveWhen }) : missing,
    area: bothClasses
      ? areaUnderCurve({ ...values, subjects: rows.subjects }, { positiveWhen, level })
      : missing,
  };
}

function comparedRows(cohort: Cohort, protocol: Protocol, condition: ProtocolCondition) {
  const { quantity } = condition.target;
  const referenceEquivalent = protocol.referenceStandard.equivalent;
  if (protocol.eye === "worse") {
    const worseWhen = condition.target.relation.startsWith(">") ? "high" : "low";
    return childValues(cohort, { eye: "worse", worseWhen, quantity, referenceEquivalent });
  }
  return eyePairs(cohort, { eyes: protocol.eye, quantity, referenceEquivalent });
}
