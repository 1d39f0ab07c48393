import { caution, type TableModel, type TableRow } from "../results/index.js";
import { asPublished } from "./asPublished.js";
import { criteria, quantityWords } from "./criteria.js";
import { isList } from "./isList.js";
import { prepareRule } from "./prepareRule.js";
import { bandText, comparison, eyeText, limitText } from "./ruleText.js";
import type { Expression, ReferralRule, RuleLimit } from "./types.js";

/**
 * A rule as a table that a clinician can check against the publication or the protocol: one row a
 * limit, by age, with its quantity, its comparison and its eyes; "any of", "all of" and "not" as
 * printed lines.
 *
 * @throws when the rule is not valid
 *
 * @example
 * explainRule(publishedRules["abnormal-refraction-bjo"]).rows.length // => 7
 */
export function explainRule(rule: ReferralRule): TableModel {
  const { rule: checked } = prepareRule("explainRule", rule);
  const bands = checked.bands ?? ([{ ageMonths: null, referWhen: checked.referWhen! }] as const);
  const rows = bands.flatMap(({ ageMonths, referWhen }) => [
    { cells: [bandText(ageMonths), "", "", ""], heading: true },
    ...rowsOf(checked, referWhen, 0),
  ]);
  return {
    kind: "table",
    title: `${checked.title} (${checked.appliesTo === "reading" ? "of a reading" : "of an exam finding"})`,
    columns: [
      { label: "Criterion", format: "text" },
      { label: "Quantity", format: "text" },
      { label: checked.appliesTo === "reading" ? "Referred when" : "Found when", format: "text" },
      { label: "Eyes", format: "text" },
    ],
    rows,
    notes: [
      ...(checked.definition === "published"
        ? [`Source: ${checked.citation}.`, asPublished]
        : ["An own definition, not a published one."]),
      ...(checked.chosen ?? []),
      ...(checked.notIncluded ?? []).map((missing) => `Not included: ${missing}.`),
      ...(checked.note === undefined ? [] : [checked.note]),
      ...notesOfLimits(checked),
      "Values are compared after rounding to 0.001. Nothing crossed with something missing is undecidable; so is an age outside all bands.",
      caution,
    ],
  };
}

function rowsOf(rule: ReferralRule, expression: Expression, depth: number): TableRow[] {
  const indent = "– ".repeat(depth);
  const line = (words: string): TableRow => ({ cells: [`${indent}${words}`, "", "", ""] });
  const members = (list: readonly Expression[], words: string) => [
    line(words),
    ...list.flatMap((member) => rowsOf(rule, member, depth + 1)),
  ];
  if (isList(expression)) return members(expression, "any of");
  if ("anyOf" in expression) return members(expression.anyOf, "any of");
  if ("allOf" in expression) return members(expression.allOf, "all of");
  if ("not" in expression) return members([expression.not], "not");
  if ("subRule" in expression) {
    return members([rule.subRules![expression.subRule]], `sub-rule ${expression.subRule}`);
  }
  return [limitRow(expression as RuleLimit, indent)];
}

function limitRow(limit: RuleLimit, indent: string): TableRow {
  const { words } = criteria[limit.criterion];
  const quantity = limit.quantity === undefined ? "" : quantityWords[limit.quantity];
  const more = [
    limit.mirror ? "left eye mirrored" : "",
    limit.degreesOff === undefined
      ? ""
      : `axis more than ${limit.degreesOff}° from 90 and from 180`,
  ].filter((part) => part !== "");
  return {
    cells: [`${indent}${words}`, [quantity, ...more].join(", "), comparison(limit), eyeText(limit)],
  };
}

function notesOfLimits(rule: ReferralRule): string[] {
  const notes = new Set<string>();
  const visit = (expression: Expression): void => {
    if (isList(expression)) expression.forEach(visit);
    else if ("anyOf" in expression) expression.anyOf.forEach(visit);
    else if ("allOf" in expression) expression.allOf.forEach(visit);
    else if ("not" in expression) visit(expression.not);
    else if (!("subRule" in expression)) {
      const limit = expression as RuleLimit;
      if (limit.note !== undefined) notes.add(`${limitText(limit)}: ${limit.note}.`);
    }
  };
  for (const { ageMonths, referWhen, note } of rule.bands ?? []) {
    visit(referWhen);
    if (note !== undefined) notes.add(`${bandText(ageMonths)}: ${note}.`);
  }
  if (rule.referWhen !== undefined) visit(rule.referWhen);
  Object.values(rule.subRules ?? {}).forEach(visit);
  return [...notes];
}
