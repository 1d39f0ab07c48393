import { type Relation, toThousandths } from "../rows/index.js";
import { criteria } from "./criteria.js";
import { isList } from "./isList.js";
import { eyeOf } from "./ruleText.js";
import type { Expression, EyeLogic, ReferralRule, RuleCriterion, RuleLimit } from "./types.js";

/** A limit made ready: a value in thousandths crosses it exactly when `low <= value < high`. */
export interface Leaf {
  readonly limit: RuleLimit;
  readonly path: readonly PropertyKey[];
  readonly negated: boolean;
  readonly low: number;
  readonly high: number;
  /** The limits in thousandths, for children exactly at one. */
  readonly ends: readonly number[];
  /** Equal for limits on the same quantity. */
  readonly key: string;
  readonly eye: Exclude<EyeLogic, "worse"> | "highest" | "lowest";
  readonly unsigned: boolean;
  /** Position of the criterion in the compiled rule's list. */
  readonly criterion: number;
}

/** An expression with every "not" pushed down to the limits. */
export type Tree =
  | { readonly op: "limit"; readonly leaf: number; readonly path: readonly PropertyKey[] }
  | {
      readonly op: "any" | "all";
      readonly members: readonly Tree[];
      readonly path: readonly PropertyKey[];
    };

interface CompiledBand {
  readonly from: number;
  readonly to: number;
  readonly tree: Tree;
}

export interface CompiledRule {
  readonly rule: ReferralRule;
  /** In the order of first mention. */
  readonly criteria: readonly RuleCriterion[];
  readonly leaves: readonly Leaf[];
  /** One band from 0 to Infinity where the rule has none. */
  readonly bands: readonly CompiledBand[];
  readonly anyAge: boolean;
}

/** A checked rule made ready to be applied; sub-rules are put in place. */
export function compileRule(rule: ReferralRule): CompiledRule {
  const leaves: Leaf[] = [];
  const names: RuleCriterion[] = [];
  const positions = new Map<string, number>();
  const compile = (
    expression: Expression,
    path: readonly PropertyKey[],
    negated: boolean,
  ): Tree => {
    const list = (
      members: readonly Expression[],
      at: readonly PropertyKey[],
      op: "any" | "all",
    ) => ({
      op: negated ? (op === "any" ? "all" : "any") : op,
      members: members.map((member, index) => compile(member, [...at, index], negated)),
      path,
    });
    if (isList(expression)) return list(expression, path, "any");
    if ("anyOf" in expression) return list(expression.anyOf, [...path, "anyOf"], "any");
    if ("allOf" in expression) return list(expression.allOf, [...path, "allOf"], "all");
    if ("not" in expression) return compile(expression.not, [...path, "not"], !negated);
    if ("subRule" in expression) {
      const name = expression.subRule;
      return compile(rule.subRules![name], ["subRules", name], negated);
    }
    const key = `${negated} ${path.join("/")}`;
    let position = positions.get(key);
    if (position === undefined) {
      const limit = expression as RuleLimit;
      if (!names.includes(limit.criterion)) names.push(limit.criterion);
      position = leaves.push(leafOf(limit, path, negated, names.indexOf(limit.criterion))) - 1;
      positions.set(key, position);
    }
    return { op: "limit", leaf: position, path };
  };
  const bands: CompiledBand[] =
    rule.bands === undefined
      ? [
          {
            from: 0,
            to: Number.POSITIVE_INFINITY,
            tree: compile(rule.referWhen!, ["referWhen"], false),
          },
        ]
      : rule.bands.map(({ ageMonths: [from, to], referWhen }, at) => ({
          from,
          to: to ?? Number.POSITIVE_INFINITY,
          tree: compile(referWhen, ["bands", at, "referWhen"], false),
        }));
  return { rule, criteria: names, leaves, bands, anyAge: rule.bands === undefined };
}

function leafOf(
  limit: RuleLimit,
  path: readonly PropertyKey[],
  negated: boolean,
  criterion: number,
): Leaf {
  const facts = criteria[limit.criterion];
  const [low, high] = interval(limit);
  const eye = eyeOf(limit);
  // in minus-cylinder form the sphere is the most positive meridian
  const quantity = limit.quantity === "sphere" ? "mostPositiveMeridian" : limit.quantity;
  const prefix = eye === "pair" ? "pair " : "";
  return {
    limit,
    path,
    negated,
    low,
    high,
    ends:
      limit.is !== undefined
        ? []
        : limit.limit !== undefined
          ? [comparable(limit.limit)]
          : Object.values(limit.range!)
              .filter((end) => end !== undefined)
              .map(comparable),
    key: `${prefix}${quantity ?? limit.criterion}${limit.degreesOff === undefined ? "" : ` off ${limit.degreesOff}`}${limit.mirror ? " mirrored" : ""}`,
    eye: eye === "worse" ? (facts.worse === "high" ? "highest" : "lowest") : eye,
    unsigned: facts.unsigned,
    criterion,
  };
}

/** Whole thousandths, half-open: the step after a limit is one thousandth. */
function interval(limit: RuleLimit): [number, number] {
  if (limit.is !== undefined) {
    return limit.is ? [500, Number.POSITIVE_INFINITY] : [Number.NEGATIVE_INFINITY, 500];
  }
  let low = Number.NEGATIVE_INFINITY;
  let high = Number.POSITIVE_INFINITY;
  const ends =
    limit.relation === undefined ? limit.range! : { [limit.relation]: limit.limit as number };
  for (const [relation, end] of Object.entries(ends) as [Relation, number | undefined][]) {
    if (end === undefined) continue;
    const step = relation === ">" || relation === "<=" ? 1 : 0;
    const edge = comparable(end) + step;
    if (relation.startsWith(">")) low = edge;
    else high = edge;
  }
  return [low, high];
}

/** A power beyond the instrument's range, on either side, in thousandths. */
export const beyond = 2 ** 28;

/** A value or a limit as rules compare it: whole thousandths, none further away than `beyond`. */
export function comparable(value: number): number {
  return Math.max(-beyond, Math.min(toThousandths(value), beyond));
}
