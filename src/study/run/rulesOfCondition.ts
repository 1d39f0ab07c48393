import type { Cohort } from "../../cohort/index.js";
import type { Protocol } from "../../protocol/index.js";
import { type RunOptions, type Undefined, undefinedBecause } from "../../results/index.js";
import { takeRows } from "../../rows/index.js";
import {
  applyRule,
  type ConditionOfRule,
  criteria,
  criteriaNotRecorded,
  conditionsOfRule,
  type ReferralRule,
  type RuleDecisions,
  reasonCombinations,
  referredAndFound,
  ruleColumns,
  variableValues,
} from "../../rules/index.js";
import { areaUnderCurve, rocCurve } from "../../thresholds/index.js";
import type { ConditionRows } from "./conditionRows.js";
import { movedLimits } from "./movedLimits.js";
import type { RuleSides } from "./ruleSides.js";
import type { ConditionCurve, ConditionRules } from "./studyResult.js";
import type { VerificationRows } from "./verificationOf.js";
import { weightedArea, weightedRows } from "./weighting.js";
import { whoseRows } from "./whoseRows.js";

type Rows = ConditionRows & VerificationRows;
type Run = RunOptions & { readonly workers?: number };

/** What the rules of a condition say beside the counts of its rows. */
export async function rulesOfCondition(
  cohort: Cohort,
  protocol: Protocol,
  rows: Rows,
  sides: RuleSides,
  role: "confirmatory" | "exploratory",
  run: Run,
): Promise<ConditionRules> {
  const { refer, condition, screened } = sides;
  const { right, left } = cohort.children.findingRow;
  const curves: ConditionCurve[] = [];
  for (const part of condition === null ? [] : conditionsOfRule(condition.rule)) {
    curves.push(await curveOf(cohort, protocol, rows, sides, part, run));
  }
  return {
    refer: refer?.rule ?? null,
    condition: condition?.rule ?? null,
    undecidedByAge: rows.undecidedByAge,
    conditionUndecided: rows.subjects.filter(
      (child, row) => rows.reference[row] === null && Math.max(right[child], left[child]) >= 0,
    ).length,
    notRecorded: {
      refer: notRecorded(refer?.rule, cohort, "reading"),
      condition: notRecorded(condition?.rule, cohort, "finding"),
    },
    reasons: refer === null ? null : reasonCombinations(decisionsOf(refer.decisions, rows, sides)),
    referredAndFound:
      refer === null || condition === null
        ? null
        : referredAndFound(screened, { refer: refer.rule, condition: condition.rule }),
    moved: movedLimits(protocol, role, rows, sides),
    curves,
  };
}

function notRecorded(
  rule: ReferralRule | undefined,
  cohort: Cohort,
  side: "reading" | "finding",
): string[] {
  if (rule === undefined) return [];
  return criteriaNotRecorded(rule, ruleColumns(cohort, side)).map((name) => criteria[name].words);
}

/** The decisions of the children in the rows. */
function decisionsOf(
  decided: RuleDecisions,
  { subjects }: Rows,
  { placeOf }: RuleSides,
): RuleDecisions {
  const { labels, codes } = decided.decision;
  return {
    ...decided,
    decision: { labels, codes: Uint8Array.from(subjects, (child) => codes[placeOf[child]]) },
    crossed: Uint32Array.from(subjects, (child) => decided.crossed[placeOf[child]]),
  };
}

/** The reading's own variable against one of the conditions that the target joins. */
async function curveOf(
  cohort: Cohort,
  protocol: Protocol,
  rows: Rows,
  { screened, placeOf }: RuleSides,
  { id, words, rule, variable }: ConditionOfRule,
  run: Run,
): Promise<ConditionCurve> {
  const complete = protocol.verification === "complete";
  const without = (missing: Undefined) => ({
    curve: missing,
    area: missing,
    weightedArea: complete ? null : missing,
  });
  if (variable.kind === "undefined" || rule === null) {
    const missing = variable.kind === "undefined" ? variable : undefinedBecause("it has no rule");
    return { id, words, variable: null, unit: null, ...without(missing) };
  }
  const named = { id, words, variable: variable.words, unit: variable.unit };
  const places = rows.subjects.map((child) => placeOf[child]);
  const columns = variableValues(variable, ruleColumns(screened, "reading"));
  const values = places.map((place) => columns[place]);
  const { codes } = applyRule(rule, screened).decision;
  const reference = places.map((place) => (codes[place] === 2 ? null : codes[place] === 1));
  const known = values.flatMap((value, row) =>
    Number.isNaN(value) || reference[row] === null ? [] : [row],
  );
  const data = {
    values: takeRows(values, known),
    ...whoseRows(cohort, protocol, takeRows(rows.subjects, known)),
    condition: known.map((row) => reference[row] === true),
  };
  const { positiveWhen } = variable;
  if (!data.condition.includes(true) || !data.condition.includes(false)) {
    const all = data.condition.includes(true) ? "with" : "without";
    return { ...named, ...without(undefinedBecause(`all compared are ${all} it`)) };
  }
  const { codes: why, labels } = cohort.children.verificationReason;
  const reason = rows.subjects.map((child, row) =>
    reference[row] === null
      ? ("not-examined" as const)
      : rows.reason[row] === "not-examined"
        ? labels[why[child]]
        : rows.reason[row],
  );
  return {
    ...named,
    curve: rocCurve(data, { positiveWhen }),
    area: areaUnderCurve(data, { positiveWhen, level: protocol.level }),
    weightedArea: complete
      ? null
      : await weightedArea(
          weightedRows({ ...rows, values, reference, reason }, protocol),
          positiveWhen,
          protocol,
          run,
        ),
  };
}
