import type { Cohort, VerificationReason } from "../../cohort/index.js";
import { isLimit, type Protocol, type ProtocolCondition } from "../../protocol/index.js";
import type { Referred } from "../../rows/index.js";
import type { LimitTest, UndecidedByAge } from "./decided.js";
import { limitReader } from "./limitReader.js";
import { type RuleSides, ruleSides } from "./ruleSides.js";

/** One row an eye, or a child, that was screened; who is in no row is counted. */
export interface ConditionRows {
  /** Referred, passed, or not to be decided. */
  readonly test: readonly Referred[];
  /** With the condition at the exam; null where that is not known. */
  readonly reference: readonly (boolean | null)[];
  readonly reason: readonly (VerificationReason | "not-examined")[];
  /** The reading's value that a referral limit looks at; NaN where there is none, or a rule refers. */
  readonly value: readonly number[];
  /** The exam's value that the condition looks at, of eyes; NaN where there is none, of children or rules. */
  readonly found: readonly number[];
  /** Position of the child in `cohort.children`. */
  readonly subjects: readonly number[];
  readonly undecidedByAge: readonly UndecidedByAge[];
}

/**
 * Every screened eye, or child, against one condition, three-valued. By limits: a reading beyond the
 * end of the instrument's range that the limit looks at is beyond the limit; unreadable, not
 * attempted and of low confidence are undecidable; for the worse eye, one eye beyond the limit
 * decides, and a child is within it only when both eyes are. By rules: as `applyRule` has it, a child
 * a row, those undecidable by age left out and counted.
 */
export function conditionRows(
  cohort: Cohort,
  protocol: Protocol,
  condition: ProtocolCondition,
  rules: RuleSides | null = ruleSides(cohort, condition),
): ConditionRows {
  const rows = {
    test: [] as Referred[],
    reference: [] as (boolean | null)[],
    reason: [] as ConditionRows["reason"][number][],
    value: [] as number[],
    found: [] as number[],
    subjects: [] as number[],
  };
  const { codes, labels } = cohort.children.verificationReason;
  const add = (
    child: number,
    { test, value }: LimitTest,
    reference: boolean | null,
    exam = Number.NaN,
  ) => {
    rows.found.push(exam);
    rows.test.push(test);
    rows.value.push(value);
    rows.reference.push(reference);
    rows.reason.push(reference === null ? "not-examined" : labels[codes[child]]);
    rows.subjects.push(child);
  };
  const { referWhen, target } = condition;
  const refer = isLimit(referWhen) ? limitReader(cohort, protocol, referWhen) : null;
  const found = isLimit(target) ? limitReader(cohort, protocol, target) : null;
  if (refer !== null && found !== null && protocol.unit === "eye") {
    for (let child = 0; child < cohort.children.n; child++) {
      for (const side of refer.sidesOf(child)) {
        const seen = refer.test(child, side);
        if (seen !== null) {
          add(child, seen, found.condition(child, side), found.found(child, side));
        }
      }
    }
    return { ...rows, undecidedByAge: [] };
  }
  for (let child = 0; child < cohort.children.n; child++) {
    const test = refer === null ? rules!.testOf(child) : refer.testOfChild(child);
    if (test === null || rules?.undecidedByAge(child)) continue;
    add(child, test, found === null ? rules!.conditionOf(child) : found.conditionOfChild(child));
  }
  return { ...rows, undecidedByAge: rules?.leftOut ?? [] };
}
