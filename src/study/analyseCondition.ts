import {
  accuracyByGroup,
  accuracyFromCounts,
  clusteredAccuracy,
  correctVerification,
  countVerification,
  crossClassify,
  unreadableBounds,
  unreadableVariants,
} from "../accuracy/index.js";
import { type Cohort, childValues, eyePairs } from "../cohort/index.js";
import type { Protocol, ProtocolCondition } from "../protocol/index.js";
import { type RunOptions, undefinedBecause } from "../results/index.js";
import { areaUnderCurve, chooseThreshold, rocCurve } from "../thresholds/index.js";
import { type ConditionRows, conditionRows } from "./conditionRows.js";
import { limitWords, meets } from "./limit.js";
import type { ConditionResult } from "./studyResult.js";
import { subgroupsOf } from "./subgroups.js";

/** Accuracy of the referral limit fixed in advance against one target condition. */
export async function analyseCondition(
  cohort: Cohort,
  protocol: Protocol,
  condition: ProtocolCondition,
  run: RunOptions & { readonly workers?: number } = {},
): Promise<ConditionResult> {
  const { level, sampling, unreadable, seed } = protocol;
  const rows = conditionRows(cohort, protocol, condition);
  const examined = examinedRows(rows);
  const decided = examined.test.filter((test) => test !== "undecidable").length;
  const design = { level, sampling, verification: verificationOf(protocol, examined) };
  const table = crossClassify(examined, { undecidable: unreadable });
  const repeated = protocol.unit === "eye" && protocol.eye === "both";
  const values = pairedValues(cohort, protocol, condition);
  const positiveWhen = condition.target.relation.startsWith(">") ? "high" : "low";
  const withCondition = Array.from(values.reference, (value) => meets(value, condition.target));
  const data = { values: values.test, condition: withCondition, subjects: values.subjects };
  const bothClasses = withCondition.includes(true) && withCondition.includes(false);
  const missing = undefinedBecause("all compared are with, or all without, the condition");
  const count = countVerification(rows, { undecidable: unreadable });
  return {
    id: condition.id,
    title: condition.title,
    role: condition.role,
    definition: condition.definition,
    citation: condition.citation ?? null,
    caution: condition.caution ?? null,
    target: limitWords(condition.target),
    referWhen: limitWords(condition.referWhen),
    n: table.truePositive + table.falsePositive + table.falseNegative + table.trueNegative,
    children: new Set(
      examined.subjects.filter(
        (_, row) => unreadable !== "exclude" || examined.test[row] !== "undecidable",
      ),
    ).size,
    screened: rows.test.length,
    unexamined: rows.test.length - examined.test.length,
    undecidable: examined.test.length - decided,
    table,
    accuracy: repeated
      ? clusteredAccuracy({ ...examined }, { ...design, undecidable: unreadable })
      : accuracyFromCounts(table, design),
    variants: unreadableVariants(examined, design),
    worstAndBest: unreadableBounds(examined),
    verification:
      protocol.verification === "complete"
        ? null
        : { count, corrected: correctVerification(count, { level, seed }) },
    curve: bothClasses ? rocCurve(data, { positiveWhen }) : missing,
    area: bothClasses ? areaUnderCurve(data, { positiveWhen, level }) : missing,
    chosen:
      condition.choose === undefined || !bothClasses
        ? null
        : await chooseThreshold(data, {
            ...run,
            positiveWhen,
            level,
            seed,
            criterion: condition.choose.criterion,
            replicates: Math.max(2, protocol.replicates),
          }),
    subgroups: subgroupsOf(cohort, protocol).map((grouping) => ({
      by: grouping.by,
      result: accuracyByGroup(
        {
          ...examined,
          groups: examined.subjects.map((child) => grouping.groupOf(child)),
          subjects: repeated ? examined.subjects : undefined,
        },
        { ...design, undecidable: unreadable },
      ),
    })),
  };
}

/** The rows whose condition is known. */
function examinedRows({ test, reference, subjects }: ConditionRows) {
  const known = reference.flatMap((value, row) => (value === null ? [] : [row]));
  return {
    test: known.map((row) => test[row]),
    reference: known.map((row) => reference[row] === true),
    subjects: known.map((row) => subjects[row]),
  };
}

/** "none" is only for data without a single examined pass; otherwise they are a part. */
function verificationOf(protocol: Protocol, examined: { readonly test: readonly unknown[] }) {
  const passExamined = examined.test.includes(false);
  return protocol.verification === "none" && passExamined ? "partial" : protocol.verification;
}

function pairedValues(cohort: Cohort, protocol: Protocol, condition: ProtocolCondition) {
  const { quantity, relation } = condition.target;
  const referenceEquivalent = protocol.referenceStandard.equivalent;
  if (protocol.eye === "worse") {
    const worseWhen = relation.startsWith(">") ? "high" : "low";
    return childValues(cohort, { eye: "worse", worseWhen, quantity, referenceEquivalent });
  }
  return eyePairs(cohort, { eyes: protocol.eye, quantity, referenceEquivalent });
}
