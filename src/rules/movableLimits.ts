import { checkRule } from "./checkRule.js";
import { criteria } from "./criteria.js";
import { agePlaces, below } from "./columns/agePlaces.js";
import type { RuleColumns } from "./columns/ruleColumns.js";
import { prepareRule } from "./prepareRule.js";
import type { ReferralRule, RuleLimit } from "./types.js";

/** A limit of a rule that can stand elsewhere without anything else of the rule moving. */
export interface MovableLimit {
  /** Position of its age band; 0 where the rule has none. */
  readonly band: number;
  /** Where it stands in the rule's JSON. */
  readonly path: readonly (string | number)[];
  readonly limit: RuleLimit & Required<Pick<RuleLimit, "relation" | "limit" | "quantity">>;
  readonly unit: "D" | "mm" | "prism D" | "logMAR";
}

/**
 * The limits of a rule that can be moved, each in one age band: those with one end, not under a "not" (where
 * a stricter limit refers more) and not of a sub-rule (which several bands may share).
 */
export function movableLimits(rule: ReferralRule): MovableLimit[] {
  return prepareRule("movableLimits", rule).leaves.flatMap(({ limit, path, negated }) => {
    const { unit } = criteria[limit.criterion];
    if (negated || path[0] === "subRules" || unit === "yes/no") return [];
    if (limit.relation === undefined || limit.limit === undefined) return [];
    const own = limit as MovableLimit["limit"];
    const band = path[0] === "bands" ? (path[1] as number) : 0;
    return [{ band, path: path as MovableLimit["path"], limit: own, unit }];
  });
}

/** A rule with one limit elsewhere; null where it would not be a valid rule. */
export function withLimit(
  rule: ReferralRule,
  path: MovableLimit["path"],
  limit: number,
): ReferralRule | null {
  const moved = structuredClone(rule);
  const own = path.reduce<unknown>(
    (part, key) => (part as Record<string | number, unknown>)[key],
    moved,
  );
  (own as { limit: number }).limit = limit;
  return checkRule(moved).length === 0 ? moved : null;
}

/** The position of each child's age band; -1 where its age allows none, several, or is not known. */
export function bandOfChildren(rule: ReferralRule, columns: RuleColumns): Int16Array {
  const ages = agePlaces(prepareRule("bandOfChildren", rule), columns);
  if (ages === null) return new Int16Array(columns.n);
  return Int16Array.from(ages.place, (place) => (place < below ? place : -1));
}
