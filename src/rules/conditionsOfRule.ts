import { type Undefined, undefinedBecause } from "../results/index.js";
import { type CriterionFacts, criteria, quantityWords } from "./criteria.js";
import { criteriaOf } from "./criteriaOf.js";
import { isList } from "./isList.js";
import { eyeOf } from "./ruleText.js";
import type { Expression, EyeLogic, ReferralRule, RuleBand, RuleLimit } from "./types.js";

/** The one variable of a reading that stands for a condition. */
export interface RuleVariable {
  readonly kind: "rule-variable";
  /** One of the condition's limits; all are on its quantity and its eyes. */
  readonly limit: RuleLimit;
  readonly positiveWhen: "high" | "low";
  readonly unit: CriterionFacts["unit"];
  /** Such as "most positive meridian, higher of both eyes". */
  readonly words: string;
}

/** One of the conditions that a rule puts together. */
export interface ConditionOfRule {
  /** The criteria of its limits, such as "hyperopia". */
  readonly id: string;
  readonly words: string;
  /**
   * The same rule with the limits of this condition alone, for the ages at which there are any; null
   * where that would leave a gap between ages.
   */
  readonly rule: ReferralRule | null;
  /** Undefined where no single variable orders children by how far they have it. */
  readonly variable: RuleVariable | Undefined;
}

/**
 * The conditions that a rule joins by "any of", each on its own, in the order of first mention. A
 * member of that list belongs to the criteria of its limits; "all of" and "not" stay whole.
 *
 * @param rule from `defineRule`
 */
export function conditionsOfRule(rule: ReferralRule): ConditionOfRule[] {
  const bands = (rule.bands ?? [{ ageMonths: null, referWhen: rule.referWhen! }]).map((band) => ({
    band,
    members: membersOf(band.referWhen, rule),
  }));
  const groups = new Map<string, string>();
  for (const member of bands.flatMap(({ members }) => members)) {
    const names = criteriaOf(member, rule);
    groups.set(names.join("-"), names.map((name) => criteria[name].words).join(" with "));
  }
  return [...groups].map(([id, words]) => {
    const own = bands.map(({ band, members }) => ({
      band,
      members: members.filter((member) => criteriaOf(member, rule).join("-") === id),
    }));
    const kept = own.flatMap(({ members }, at) => (members.length > 0 ? [at] : []));
    const whole = kept.at(-1)! - kept[0] === kept.length - 1;
    return {
      id,
      words,
      rule: whole
        ? ruleWith(
            rule,
            { id, words },
            kept.map((at) => own[at]),
          )
        : null,
      variable: whole
        ? variableOf(own.flatMap(({ members }) => members))
        : undefinedBecause("it is not looked for at every age between"),
    };
  });
}

function membersOf(expression: Expression, rule: ReferralRule): Expression[] {
  if (isList(expression)) return expression.flatMap((member) => membersOf(member, rule));
  if ("anyOf" in expression) return membersOf(expression.anyOf, rule);
  if ("subRule" in expression) return membersOf(rule.subRules![expression.subRule], rule);
  return [expression];
}

function ruleWith(
  rule: ReferralRule,
  { id, words }: Pick<ConditionOfRule, "id" | "words">,
  own: readonly {
    readonly band: { readonly ageMonths: RuleBand["ageMonths"] | null };
    readonly members: readonly Expression[];
  }[],
): ReferralRule {
  const shared = {
    kind: rule.kind,
    id: `${rule.id}-${id.toLowerCase()}`,
    title: `${words} (${rule.title})`,
    definition: rule.definition,
    citation: rule.citation,
    appliesTo: rule.appliesTo,
    subRules: rule.subRules,
  };
  if (rule.bands === undefined) return { ...shared, referWhen: own[0].members };
  return {
    ...shared,
    bands: own.map(({ band, members }) => ({ ageMonths: band.ageMonths!, referWhen: members })),
  };
}

function variableOf(members: readonly Expression[]): RuleVariable | Undefined {
  const limits = members.flatMap((member) => ("criterion" in member ? [member as RuleLimit] : []));
  if (limits.length < members.length) return undefinedBecause("it joins several limits");
  const [limit] = limits;
  const { unit, of } = criteria[limit.criterion];
  if (!of.includes("reading") || unit === "yes/no")
    return undefinedBecause("a reading does not measure it");
  if (limits.some(({ relation }) => relation === undefined))
    return undefinedBecause("it lies between two ends");
  if (new Set(limits.map(variableKey)).size > 1)
    return undefinedBecause("its limits are on several quantities, eyes or directions");
  const positiveWhen = limit.relation!.startsWith(">") ? "high" : "low";
  return {
    kind: "rule-variable",
    limit,
    positiveWhen,
    unit,
    words: `${quantityWords[limit.quantity!]}, ${eyeWords(eyeOf(limit), limit, positiveWhen)}`,
  };
}

function variableKey(limit: RuleLimit): string {
  const { criterion, quantity, relation, degreesOff, mirror } = limit;
  const eye = eyeOf(limit);
  return [criterion, quantity, eye, relation!.charAt(0), degreesOff, mirror].join();
}

function eyeWords(eye: EyeLogic, limit: RuleLimit, positiveWhen: "high" | "low"): string {
  const higher = "higher of both eyes";
  const lower = "lower of both eyes";
  const high = positiveWhen === "high";
  switch (eye) {
    case "either":
      return high ? higher : lower;
    case "both":
      return high ? lower : higher;
    case "worse":
      return criteria[limit.criterion].worse === "high" ? higher : lower;
    case "lesser-error":
      return "the eye nearer to zero";
    case "greatest-error":
      return "the eye further from zero";
    case "right":
    case "left":
      return `${eye} eye`;
    case "pair":
      return "difference of the eyes";
  }
}
