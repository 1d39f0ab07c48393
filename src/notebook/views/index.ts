// What a reader sees of a result: one rule a kind.

import { accuracyRules } from "./accuracyRules.js";
import { agreementRules } from "./agreementRules.js";
import { citationRules } from "./citationRules.js";
import { cohortRules } from "./cohortRules.js";
import { generalTables } from "./generalTables.js";
import { thresholdRules } from "./thresholdRules.js";
import type { DrawnRows, DrawnVectors, View, ViewRule, ViewRules } from "./view.js";
import { formatOf } from "./words.js";

export { estimateText } from "./estimateText.js";
export type { DrawnRows, DrawnVectors, View } from "./view.js";

/** The note below a table says level and method of its intervals; a seed and an audience are for those who read the result. */
const said = ["level", "method", "seed", "audience"];

const rules: ViewRules = {
  ...agreementRules,
  ...accuracyRules,
  ...thresholdRules,
  ...cohortRules,
  ...citationRules,
};

/** Whether results of a kind have a rule of their own. */
export const hasRule = (kind: string): boolean => Object.hasOwn(rules, kind);

/**
 * The answer first, then its tables, then its figure. Objects of results without a kind of this package, such
 * as those made by hand for `show`, are shown by the general rules.
 *
 * @param rows pairs from which the figure can draw each row
 * @param draws false where nobody asks for a figure
 */
export function viewOf(
  result: object,
  rows: DrawnRows | DrawnVectors | null = null,
  draws = true,
): View {
  const kind = "kind" in result && typeof result.kind === "string" ? result.kind : "";
  const rule = hasRule(kind) ? (rules[kind] as ViewRule<object>) : undefined;
  return {
    headline: rule?.headline(result) ?? "",
    tables:
      rule?.tables?.(result) ??
      generalTables(result, rule && { ...rule, hidden: hiddenBy(rule), format: formatOf }),
    figure: (draws && rule?.figure?.(result, rows)) || null,
  };
}

function hiddenBy({ first = [], hidden = [] }: ViewRule<object>): readonly string[] {
  return [...said.filter((name) => !first.includes(name)), ...hidden];
}
