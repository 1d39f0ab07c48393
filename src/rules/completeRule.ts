import { InputError } from "../results/index.js";
import { defineRule } from "./defineRule.js";
import { quantityToday } from "./quantityToday.js";
import type { ReferralRule } from "./types.js";

export interface TemplateOption {
  readonly id: string;
  readonly words: string;
}

/** Something that the source, as seen, leaves open. */
export interface TemplateChoice {
  readonly name: string;
  readonly question: string;
  readonly options: readonly TemplateOption[];
}

/** A published definition with something left open: the user chooses, and the choice is printed. */
export interface RuleTemplate {
  readonly kind: "rule-template";
  readonly id: string;
  readonly title: string;
  readonly citation: string;
  readonly choices: readonly TemplateChoice[];
  /** The rule's JSON, with `{ "choose": name }` where a chosen word goes. */
  readonly rule: object;
}

/**
 * The rule of a template, with what its source leaves open chosen by the user. Each choice is kept
 * in the rule (`chosen`) and printed by `explainRule`.
 *
 * @param given an answer for each choice that the template leaves open
 * @param template such as one of `publishedRules`
 * @param choices one option's id for each of the template's choices
 * @throws when a choice is missing, unknown or not among the options
 *
 * @example
 * completeRule(publishedRules["exam-failure-2001"], { hyperopiaQuantity: "M", myopiaQuantity: "M", anisometropiaQuantity: "M" }).id // => "exam-failure-2001"
 */
export function completeRule(
  template: RuleTemplate,
  given: { readonly [name: string]: string },
): ReferralRule {
  if (template?.kind !== "rule-template") {
    throw new InputError("completeRule requires a template, got something else");
  }
  const choices = Object.fromEntries(
    Object.entries(given).map(([name, choice]) => [name, quantityToday(choice)]),
  );
  const names = template.choices.map(({ name }) => name);
  const strange = Object.keys(choices).filter((name) => !names.includes(name));
  if (strange.length > 0) {
    throw new InputError(
      `completeRule requires choices among ${names.join(", ")}, got ${strange.join(", ")}`,
    );
  }
  const chosen = template.choices.map(({ name, question, options }) => {
    const option = options.find(({ id }) => id === choices[name]);
    if (option === undefined) {
      const known = options.map(({ id }) => `"${id}"`).join(", ");
      throw new InputError(
        `completeRule requires ${name} (${question}), one of ${known}, got ${choices[name] ?? "none"}`,
      );
    }
    return `${question} Chosen: ${option.words}.`;
  });
  return defineRule({ ...(filled(template.rule, choices) as object), chosen });
}

function filled(json: unknown, choices: { readonly [name: string]: string }): unknown {
  if (Array.isArray(json)) return json.map((member) => filled(member, choices));
  if (typeof json !== "object" || json === null) return json;
  if ("choose" in json) return choices[json.choose as string];
  return Object.fromEntries(
    Object.entries(json).map(([key, value]) => [key, filled(value, choices)]),
  );
}
