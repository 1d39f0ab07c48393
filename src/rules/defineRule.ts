import { InputError, namedIssues } from "../results/index.js";
import { checkRule } from "./checkRule.js";
import { pathText } from "./path.js";
import { ruleSchema } from "./schema.js";
import type { ReferralRule } from "./types.js";

/**
 * Checks a referral rule or target condition given as JSON. A rule says what it applies to, its age
 * bands in completed months (half-open, without gap or overlap) and, for each, limits combined by
 * `anyOf` (a list means the same), `allOf`, `not` and sub-rules. Each limit names its criterion, its
 * quantity, its eyes and its relation: nothing is guessed.
 *
 * @param json the rule as read from a JSON file
 * @throws with one line a mistake, each with its path: unknown keys, criteria, quantities; reversed,
 * gapped or overlapping bands; a limit without relation; a limit finer than 0.001; an expression
 * that can never be true
 *
 * @example
 * defineRule({ kind: "rule", id: "plus", title: "Plus", definition: "own", appliesTo: "reading", referWhen: [{ criterion: "hyperopia", quantity: "M", eye: "either", relation: ">", limit: 3.5 }] }).id // => "plus"
 */
export function defineRule(json: unknown): ReferralRule {
  if (isTemplate(json)) {
    throw new InputError(
      "defineRule requires a rule, got a template; choose what its source leaves open with completeRule",
    );
  }
  const parsed = ruleSchema().safeParse(json);
  const mistakes = parsed.success
    ? checkRule(parsed.data as ReferralRule)
    : parsed.error.issues.flatMap((issue) => namedIssues(issue));
  if (mistakes.length > 0) {
    const lines = mistakes.map(({ path, message }) => `${pathText(path)}: ${message}`);
    throw new InputError(`defineRule requires a valid rule, got\n  ${lines.join("\n  ")}`);
  }
  return parsed.data as ReferralRule;
}

function isTemplate(json: unknown): boolean {
  return (
    typeof json === "object" && json !== null && "kind" in json && json.kind === "rule-template"
  );
}
