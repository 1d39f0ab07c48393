import { type Cohort, childValues, eyePairs } from "../../cohort/index.js";
import {
  isLimit,
  type Protocol,
  type ProtocolCondition,
  type ProtocolLimit,
} from "../../protocol/index.js";
import { type RunOptions, type Undefined, undefinedBecause } from "../../results/index.js";
import { directionOf, meets, onGrid, takeColumns } from "../../rows/index.js";
import { conditionsOfRule, type ReferralRule } from "../../rules/index.js";
import {
  areaUnderCurve,
  chooseThreshold,
  rocCurve,
  type ThresholdRows,
} from "../../thresholds/index.js";
import type { ConditionRows } from "./conditionRows.js";
import { eyesOf } from "./limitReader.js";
import type { ConditionResult } from "./studyResult.js";
import type { VerificationRows } from "./verificationOf.js";
import { weightedArea, weightedRows } from "./weighting.js";
import { whoseRows } from "./whoseRows.js";

/** The curve, its area and a chosen limit on the variable of the referral limit. */
export async function oneVariable(
  cohort: Cohort,
  protocol: Protocol,
  condition: ProtocolCondition,
  rows: ConditionRows & VerificationRows,
  target: ReferralRule | null,
  run: RunOptions & { readonly workers?: number },
): Promise<Pick<ConditionResult, "curve" | "area" | "chosen" | "weighted">> {
  const { referWhen, choose } = condition;
  const limit = isLimit(referWhen) ? referWhen : null;
  const none = limit === null ? byRule : noVariable(target);
  if (limit === null || none !== null) {
    const missing = none ?? byRule;
    return { curve: missing, area: missing, chosen: null, weighted: null };
  }
  const { subjects, ...compared } = comparedRows(cohort, protocol, condition, rows);
  const data = { ...compared, ...whoseRows(cohort, protocol, subjects) };
  const positiveWhen = directionOf(limit);
  const { level, seed } = protocol;
  const choice = {
    ...run,
    positiveWhen,
    level,
    seed,
    replicates: Math.max(2, protocol.replicates),
  };
  const choosing = async (on: ThresholdRows) =>
    choose === undefined
      ? null
      : await chooseThreshold(on, { ...choice, criterion: choose.criterion });
  const bothClasses = data.condition.includes(true) && data.condition.includes(false);
  const missing = undefinedBecause("all compared are with, or all without, the condition");
  const weighted =
    protocol.verification === "complete"
      ? null
      : weightedRows({ ...rows, values: rows.value }, protocol);
  return {
    curve: bothClasses ? rocCurve(data, { positiveWhen }) : missing,
    area: bothClasses ? areaUnderCurve(data, { positiveWhen, level }) : missing,
    chosen: bothClasses ? await choosing(data) : null,
    weighted: weighted && {
      area: await weightedArea(weighted, positiveWhen, protocol, run),
      chosen:
        choose === undefined
          ? null
          : weighted.kind === "undefined"
            ? weighted
            : await choosing(weighted),
    },
  };
}

const byRule = undefinedBecause(
  "a rule refers, not a limit on one variable: there is no line to move along one axis",
);

/** Why a target rule has no curve on one variable, or null. */
function noVariable(target: ReferralRule | null): Undefined | null {
  if (target === null) return null;
  const parts = conditionsOfRule(target);
  const [{ words, variable }] = parts;
  if (parts.length > 1) {
    return undefinedBecause(
      `the target joins ${parts.map((part) => part.words).join(", ")}: no single variable orders children by it; there is one curve a condition`,
    );
  }
  return variable.kind === "undefined"
    ? undefinedBecause(`the target (${words}) has no variable: ${variable.reason}`)
    : null;
}

interface ComparedRows extends Omit<ThresholdRows, "clusters"> {
  readonly subjects: ArrayLike<number>;
  readonly condition: readonly boolean[];
}

/** Readings with a value whose condition is known. */
function comparedRows(
  cohort: Cohort,
  protocol: Protocol,
  { target }: ProtocolCondition,
  rows: ConditionRows,
): ComparedRows {
  if (isLimit(target)) {
    const { test, reference, subjects } = pairedValues(cohort, protocol, target);
    const condition = Array.from(reference, (value) => meets(value, target));
    return { values: Array.from(test, onGrid), condition, subjects };
  }
  const known = rows.value.flatMap((value, row) =>
    Number.isNaN(value) || rows.reference[row] === null ? [] : [row],
  );
  return {
    ...takeColumns({ values: rows.value, subjects: rows.subjects }, known),
    condition: known.map((row) => rows.reference[row] === true),
  };
}

function pairedValues(cohort: Cohort, protocol: Protocol, limit: ProtocolLimit) {
  const { quantity } = limit;
  const referenceEquivalent = protocol.referenceStandard.equivalent;
  if (protocol.eye === "worse") {
    const worseWhen = directionOf(limit);
    return childValues(cohort, { eye: "worse", worseWhen, quantity, referenceEquivalent });
  }
  if (protocol.eye !== "random") {
    return eyePairs(cohort, { eyes: protocol.eye, quantity, referenceEquivalent });
  }
  // the eyes that were drawn for the rows, whether the other one is complete or not
  const both = eyePairs(cohort, { eyes: "both", quantity, referenceEquivalent });
  const drawn = eyesOf(cohort, protocol);
  const kept = Array.from(both.subjects.keys()).filter((row) =>
    drawn(both.subjects[row]).includes(both.eye[row]),
  );
  return {
    ...takeColumns({ test: both.test, reference: both.reference, subjects: both.subjects }, kept),
  };
}
