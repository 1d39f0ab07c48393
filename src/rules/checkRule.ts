import { checkLimit } from "./checkLimit.js";
import { compileRule } from "./compileRule.js";
import { isList } from "./isList.js";
import type { Mistake } from "./mistake.js";
import { neverTrue } from "./neverTrue.js";
import type { Expression, ReferralRule, RuleBand, RuleLimit } from "./types.js";

/** What is wrong with a rule of the right shape, each with its path. */
export function checkRule(rule: ReferralRule): Mistake[] {
  const mistakes: Mistake[] = [];
  const say = (path: readonly PropertyKey[], message: string) => mistakes.push({ path, message });
  if ((rule.bands === undefined) === (rule.referWhen === undefined)) {
    say([], "either bands or referWhen is required, not both");
  }
  if (rule.definition === "published" && rule.citation === undefined) {
    say(["citation"], "a published definition needs its citation");
  }
  checkBands(rule.bands ?? [], say);
  const visit = (expression: Expression, path: PropertyKey[], within: readonly string[]) => {
    if (isList(expression)) {
      expression.forEach((member, at) => {
        visit(member, [...path, at], within);
      });
    } else if ("anyOf" in expression) visit(expression.anyOf, [...path, "anyOf"], within);
    else if ("allOf" in expression) visit(expression.allOf, [...path, "allOf"], within);
    else if ("not" in expression) visit(expression.not, [...path, "not"], within);
    else if ("subRule" in expression) {
      const { subRule } = expression;
      const known = rule.subRules !== undefined && Object.hasOwn(rule.subRules, subRule);
      if (!known) say([...path, "subRule"], `there is no sub-rule "${subRule}"`);
      else if (within.includes(subRule)) {
        say([...path, "subRule"], `the sub-rule "${subRule}" contains itself`);
      } else visit(rule.subRules![subRule], ["subRules", subRule], [...within, subRule]);
    } else mistakes.push(...checkLimit(expression as RuleLimit, path, rule.appliesTo));
  };
  for (const [name, expression] of Object.entries(rule.subRules ?? {})) {
    visit(expression, ["subRules", name], [name]);
  }
  for (const [at, band] of (rule.bands ?? []).entries()) {
    visit(band.referWhen, ["bands", at, "referWhen"], []);
  }
  if (rule.referWhen !== undefined) visit(rule.referWhen, ["referWhen"], []);
  if (mistakes.length > 0) return distinct(mistakes);
  return neverTrue(compileRule(rule)).map((path) => ({
    path,
    message: "this can never be true",
  }));
}

function checkBands(
  bands: readonly RuleBand[],
  say: (path: readonly PropertyKey[], message: string) => void,
): void {
  bands.forEach(({ ageMonths: [from, to] }, at) => {
    const path = ["bands", at, "ageMonths"];
    if (to !== null && to <= from) say(path, `the band ends at ${to}, not after its start ${from}`);
    if (at === 0) return;
    const before = bands[at - 1].ageMonths[1];
    if (before === null) say(path, "the band before it has no end");
    else if (before < from) say(path, `there is a gap between ${before} and ${from} months`);
    else if (before > from) say(path, `it overlaps the band before it, which ends at ${before}`);
  });
}

/** A sub-rule used twice is reported once. */
function distinct(mistakes: readonly Mistake[]): Mistake[] {
  const seen = new Set<string>();
  return mistakes.filter(({ path, message }) => {
    const key = `${path.join("/")}: ${message}`;
    return seen.has(key) ? false : seen.add(key);
  });
}
