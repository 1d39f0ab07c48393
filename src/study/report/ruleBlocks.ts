import {
  referralReasonsFigure,
  referredAgainstFoundFigure,
  rocFigure,
} from "../../figures/index.js";
import { caution, type FigureSpec, type TableModel } from "../../results/index.js";
import {
  criteria,
  explainRule,
  type ReferredAndFound,
  type RuleCriterion,
  referredAndFoundTable,
} from "../../rules/index.js";
import type { ConditionWords } from "../coarse/conditionWords.js";
import { notRecordedWords } from "../run/limitations.js";
import type {
  ConditionCurve,
  ConditionResult,
  ConditionRules,
  StudyResult,
} from "../run/studyResult.js";
import type { ReportBlock } from "./report.js";
import { count, text } from "./tableParts.js";

/** The rules of a condition in words, to be checked against the publication or the protocol. */
export function rulesInWords({ rules }: ConditionWords): TableModel[] {
  return [rules?.refer, rules?.condition].flatMap((rule) =>
    rule ? [withoutCaution(explainRule(rule))] : [],
  );
}

/** What the rules refer for and find, who is in no row, and the curve of each condition. */
export function ruleBlocks(condition: ConditionResult, result: StudyResult): ReportBlock[] {
  const { rules, id, title } = condition;
  if (rules === null) return [];
  return [
    ...undecidedByAge(condition, rules),
    ...(rules.reasons === null
      ? []
      : [
          {
            ...referralReasonsFigure(
              rules.reasons.map(({ reasons, children }) => ({
                reasons: reasons.map(wordsOf),
                children,
              })),
              result.protocol,
            ),
            name: `referral-reasons-${id}`,
          },
        ]),
    ...(rules.referredAndFound === null
      ? []
      : foundBlocks(condition, rules.referredAndFound, result)),
    ...(rules.curves.length === 0 ? [] : [curvesTable(title, rules.curves, result)]),
    ...rules.curves.flatMap((curve) => curveFigure(condition, curve, result)),
  ];
}

/** A report says the caution once, at its top. */
function withoutCaution(table: TableModel): TableModel {
  return { ...table, notes: table.notes.filter((note) => note !== caution) };
}

/** On the first page: what a rule asks for and the data record of nobody. */
export function notRecordedBlocks(
  conditions: readonly {
    readonly title: string;
    readonly rules: Pick<ConditionRules, "notRecorded"> | null;
  }[],
): ReportBlock[] {
  return conditions.flatMap(({ title, rules }) =>
    notRecordedWords(rules).map(
      (sentence): ReportBlock => ({
        kind: "paragraph",
        text: `${title}: ${sentence}`,
        emphasis: "caution",
      }),
    ),
  );
}

function wordsOf(criterion: RuleCriterion): string {
  return criteria[criterion].words;
}

function undecidedByAge({ title }: ConditionResult, rules: ConditionRules): TableModel[] {
  const causes = {
    "no-band": "the age is outside all bands of the rule",
    "age-spans-bands": "the age is known in years only, and its bands disagree",
    "age-unknown": "the age is not known",
  };
  const rows = [
    ...rules.undecidedByAge.map(({ by, cause, children }) => ({
      cells: [by === "reading" ? "Referral" : "Condition", causes[cause], "left out", children],
    })),
    ...(rules.conditionUndecided === 0
      ? []
      : [
          {
            cells: [
              "Condition",
              "the exam does not decide it: something was not measured",
              "as not examined",
              rules.conditionUndecided,
            ],
          },
        ]),
  ];
  if (rows.length === 0) return [];
  const table: TableModel = {
    kind: "table",
    title: `Not decided: ${title}`,
    columns: [text("Rule"), text("Why"), text("Counted"), count("Children")],
    rows,
    notes: [
      "Screened children. Those whom a rule cannot decide by their age are left out, whatever the policy for the unreadable.",
    ],
  };
  return [table];
}

function foundBlocks(
  { id, title }: ConditionResult,
  found: ReferredAndFound,
  result: StudyResult,
): ReportBlock[] {
  const words = (name: RuleCriterion | "pass" | "undecidable") =>
    name === "pass" ? "passed" : name === "undecidable" ? "undecidable" : wordsOf(name);
  const counts = found.rows.flatMap((row) => [
    ...row.found.map((children, at) => ({
      referredFor: words(row.referredFor),
      found: wordsOf(found.found[at]),
      children,
    })),
    { referredFor: words(row.referredFor), found: "none of these", children: row.foundNothing },
  ]);
  const figure: FigureSpec = {
    ...referredAgainstFoundFigure(counts, { ...result.protocol, children: found.n }),
    name: `referred-against-found-${id}`,
  };
  const table = withoutCaution(referredAndFoundTable(found));
  return [figure, { ...table, title: `${table.title}: ${title}` }];
}

function curvesTable(
  title: string,
  curves: readonly ConditionCurve[],
  { protocol }: StudyResult,
): TableModel {
  const partial = protocol.verification !== "complete";
  return {
    kind: "table",
    title: `${curves.length === 1 ? "The curve of the rule's own variable" : "One curve a condition"}: ${title}`,
    columns: [
      text("Condition"),
      text("Variable of the reading"),
      { label: partial ? "Area, among the examined" : "Area", format: "proportion" },
      ...(partial
        ? [{ label: "Area, weighted for who was examined", format: "proportion" } as const]
        : []),
    ],
    rows: curves.map((curve) => {
      const cells = [curve.area, curve.weightedArea];
      return {
        cells: [curve.words, curve.variable ?? "–", ...cells.slice(0, partial ? 2 : 1)],
      };
    }),
    notes: [
      curves.length === 1
        ? "The condition is set against its own variable of the reading, over measured readings alone."
        : "The target joins several conditions, so no single variable has a curve for all of it: each condition is set against its own variable of the reading, over measured readings alone.",
      ...(partial
        ? [
            "Among the examined, the area is that of children chosen in part by the reading. Weighted: children examined because they were referred, or drawn, stand for the unexamined of the same result, which is right only if being examined depended on nothing else; weights estimated anew in each resample of children.",
          ]
        : []),
    ],
  };
}

function curveFigure(
  { id, title }: ConditionResult,
  { id: part, words, curve, area, unit }: ConditionCurve,
  { protocol }: StudyResult,
): ReportBlock[] {
  if (curve.kind === "undefined") return [];
  const figure = rocFigure(curve, area, {
    condition: `${words} (${title})${protocol.verification === "complete" ? "" : ", among the examined"}`,
    row: "child",
    unit: unit ?? "",
    audience: protocol.audience,
  });
  return [{ ...figure, name: `roc-${id}-${part.toLowerCase()}` }];
}
