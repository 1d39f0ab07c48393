import {
  accuracyByGroup,
  accuracyFromCounts,
  clusteredAccuracy,
  crossClassify,
  unreadableBounds,
  unreadableVariants,
} from "../../accuracy/index.js";
import type { Cohort } from "../../cohort/index.js";
import { isLimit, type Protocol, type ProtocolCondition } from "../../protocol/index.js";
import type { RunOptions } from "../../results/index.js";
import { limitWords, takeColumns } from "../../rows/index.js";
import type { ReferralRule } from "../../rules/index.js";
import { type ConditionRows, conditionRows } from "./conditionRows.js";
import { correctedAtStops } from "./correctedAtStops.js";
import { oneVariable } from "./oneVariable.js";
import { predictiveAt } from "./predictiveAt.js";
import { type ProgrammeSource, programmeOf, programmeRows } from "./programmeOf.js";
import { referenceError } from "./referenceError.js";
import { referralOutcomes } from "./referralOutcomes.js";
import { ruleSides } from "./ruleSides.js";
import { rulesOfCondition } from "./rulesOfCondition.js";
import { simultaneousRates } from "./simultaneousRates.js";
import { conditionCells } from "./studyCells.js";
import type { ConditionResult } from "./studyResult.js";
import { strataOf, subgroupsOf } from "./subgroups.js";
import { correctedRows, rowsWhere, type VerificationRows } from "./verificationOf.js";
import { whoseRows } from "./whoseRows.js";

/**
 * Accuracy of the referral fixed in advance against one target condition.
 *
 */
export async function analyseCondition(
  cohort: Cohort,
  protocol: Protocol,
  condition: ProtocolCondition,
  run: RunOptions & { readonly workers?: number } = {},
): Promise<ConditionResult> {
  const { level, sampling, undecidable } = protocol;
  const sides = ruleSides(cohort, condition);
  const found = conditionRows(cohort, protocol, condition, sides);
  const strata = strataOf(cohort, protocol);
  const programme = programmeOf(cohort, protocol);
  const rows = {
    ...programmeRows(found, cohort, protocol, programme, strata?.groupOf ?? null),
    programme,
  };
  const examined = examinedRows(rows);
  const decided = examined.test.filter((test) => test !== "undecidable").length;
  const design = { level, sampling, verification: verificationOf(protocol, examined) };
  const table = crossClassify(examined, { undecidable });
  const clustered =
    protocol.clusters === "site" || (protocol.unit === "eye" && protocol.eye === "both");
  const { subjects, ...results } = examined;
  const whose = whoseRows(cohort, protocol, subjects);
  const accuracyAt = (wanted: number) =>
    clustered
      ? clusteredAccuracy({ ...results, ...whose }, { ...design, level: wanted, undecidable })
      : accuracyFromCounts(table, { ...design, level: wanted });
  const target = sides?.condition?.rule ?? null;
  const variable = await oneVariable(cohort, protocol, condition, rows, target, run);
  const verification = verificationResult(rows, programme, protocol);
  const accuracy = accuracyAt(level);
  return {
    id: condition.id,
    title: condition.title,
    role: condition.role,
    definition: condition.definition,
    citation: condition.citation ?? target?.citation ?? null,
    caution: condition.caution ?? null,
    target: sideWords(condition.target, target),
    referWhen: sideWords(condition.referWhen, sides?.refer?.rule ?? null),
    n: table.truePositive + table.falsePositive + table.falseNegative + table.trueNegative,
    children: new Set(
      examined.subjects.filter(
        (_, row) => undecidable !== "exclude" || examined.test[row] !== "undecidable",
      ),
    ).size,
    screened: rows.test.length,
    unexamined: rows.test.length - examined.test.length,
    followUp: { referred: followUp(rows, true), passed: followUp(rows, false) },
    undecidable: examined.test.length - decided,
    table,
    cells: conditionCells(cohort, protocol, rows).whole,
    accuracy,
    ...predictiveAt(condition, protocol, { table, accuracy, verification }),
    ...simultaneousRates(protocol, condition.role, (each) =>
      protocol.verification === "complete"
        ? accuracyAt(each)
        : correctedRows(rows, { ...protocol, level: each }, undecidable),
    ),
    ...withReferenceError(protocol, condition, rows, (subjects) =>
      whoseRows(cohort, protocol, subjects),
    ),
    variants: unreadableVariants({ ...results, ...whose }, design),
    worstAndBest: unreadableBounds(examined),
    verification,
    ...referralOutcomes(
      protocol,
      rows,
      { table, ...results, whose: clustered ? whose : null },
      verification,
    ),
    ...variable,
    atStops: correctedAtStops(rows, protocol, condition, variable),
    rules:
      sides === null
        ? null
        : await rulesOfCondition(cohort, protocol, rows, sides, condition.role, run),
    subgroups: subgroupsOf(cohort, protocol).map((grouping) => {
      const { by, role, groupOf, order } = grouping;
      const result = accuracyByGroup(
        {
          ...results,
          by: subjects.map((child) => groupOf(child)),
          // One site has no sites within it.
          ...(!clustered ? {} : by === "site" ? { subjects } : whose),
        },
        { ...design, undecidable },
      );
      const groups = result.groups.toSorted((one, other) => order(one.group, other.group));
      const corrected =
        protocol.verification === "complete"
          ? null
          : groups.map(({ group }) => {
              const own = rowsWhere(rows, (row) => groupOf(rows.subjects[row]) === group);
              // One site has no sites within it.
              const whose = by === "site" ? { ...own, sites: null } : own;
              return { group, corrected: correctedRows(whose, protocol, undecidable) };
            });
      const cellsOf = conditionCells(cohort, protocol, rows, grouping).groups;
      const cells = [...cellsOf].map(([group, own]) => ({ group, cells: own }));
      cells.sort((one, other) => order(one.group, other.group));
      return { by, role, result: { ...result, groups }, corrected, cells };
    }),
  };
}

function withReferenceError(
  ...given: Parameters<typeof referenceError>
): Pick<ConditionResult, "referenceError"> {
  const found = referenceError(...given);
  return found === null ? {} : { referenceError: found };
}

/** How many rows with this result were screened, and of them examined. */
function followUp({ test, reference }: ConditionRows, result: boolean) {
  const rows = reference.filter((_, row) => test[row] === result);
  return { screened: rows.length, examined: rows.filter((found) => found !== null).length };
}

/** "M <= -3.00 D", or the rule by its title. */
function sideWords(side: ProtocolCondition["target"], rule: ReferralRule | null): string {
  return isLimit(side) ? limitWords(side) : `the rule "${rule!.title}"`;
}

/** Corrected for who was examined, by the protocol's policy for the undecidable and by the others. */
function verificationResult(
  rows: VerificationRows,
  { source, filled }: ProgrammeSource,
  protocol: Protocol,
): ConditionResult["verification"] {
  if (protocol.verification === "complete") return null;
  const byPolicy = (["refer", "pass", "exclude"] as const).map((policy) => ({
    policy,
    corrected: correctedRows(rows, protocol, policy),
  }));
  return {
    corrected: byPolicy.find(({ policy }) => policy === protocol.undecidable)!.corrected,
    programme: { source, filled, ...countsByDecision(rows) },
    strata: protocol.verificationStrata === undefined ? null : [...new Set(rows.groups)],
    byPolicy,
  };
}

/** Rows screened, and of these examined, by what the programme decided. */
function countsByDecision({ recorded, reference }: VerificationRows) {
  const of = (decision: VerificationRows["recorded"][number]) => {
    const found = reference.filter((_, row) => recorded[row] === decision);
    return { screened: found.length, examined: found.filter((one) => one !== null).length };
  };
  return { refer: of("refer"), pass: of("pass"), unable: of("unable") };
}

/** The rows whose condition is known. */
function examinedRows({ test, reference, subjects }: ConditionRows) {
  const known = reference.flatMap((value, row) => (value === null ? [] : [row]));
  return {
    ...takeColumns({ test, subjects }, known),
    reference: known.map((row) => reference[row] === true),
  };
}

/** "none" is only for data without a single examined pass; otherwise they are a part. */
function verificationOf(protocol: Protocol, examined: { readonly test: readonly unknown[] }) {
  const passExamined = examined.test.includes(false);
  return protocol.verification === "none" && passExamined ? "partial" : protocol.verification;
}
