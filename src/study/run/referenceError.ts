import { type ImperfectReference, imperfectReference } from "../../accuracy/index.js";
import { isLimit, type Protocol, type ProtocolCondition } from "../../protocol/index.js";
import { type Undefined, undefinedBecause } from "../../results/index.js";
import { type ClusterColumns, takeClusters, takeRows } from "../../rows/index.js";
import type { ConditionRows } from "./conditionRows.js";

/** M of prescriptions in quarters. */
const stepOfM = 0.125;

/**
 * What the exam's own error does to sensitivity and specificity, where the protocol declares it
 * (`referenceStandard.errorSd`); absent where it does not. Values that are no eighths of a dioptre
 * are taken as not rounded; the result says its step.
 *
 * @param whoseOf children, or children and sites, of the rows
 */
export function referenceError(
  protocol: Protocol,
  { target, referWhen }: ProtocolCondition,
  { test, found, subjects }: Pick<ConditionRows, "test" | "found" | "subjects">,
  whoseOf: (subjects: readonly number[]) => ClusterColumns,
): ImperfectReference | Undefined | null {
  const { errorSd } = protocol.referenceStandard;
  if (errorSd === undefined) return null;
  if (!isLimit(target) || !isLimit(referWhen) || target.quantity !== "M") {
    return undefinedBecause("the exam's error is that of M: only for limits of M");
  }
  if (protocol.unit !== "eye") {
    return undefinedBecause("the exam's error is that of an eye: only where eyes are counted");
  }
  if (protocol.verification !== "complete") {
    return undefinedBecause(
      "only where everyone was examined: else who is near the limit at the exam depends on the reading",
    );
  }
  const known = found.flatMap((value, row) => (Number.isNaN(value) ? [] : [row]));
  const reference = takeRows(found, known);
  const whole = reference.every(
    (value) => Math.abs(value / stepOfM - Math.round(value / stepOfM)) < 1e-6,
  );
  return imperfectReference(
    { test: takeRows(test, known), reference, ...takeClusters(whoseOf(subjects), known) },
    {
      limit: target,
      errorSd,
      step: whole ? stepOfM : 0,
      level: protocol.level,
      undecidable: protocol.undecidable,
    },
  );
}
