import type { Cohort, Eye } from "../cohort/index.js";
import { InputError } from "../results/index.js";
import { applyToChild } from "./applyToChild.js";
import { asPublished } from "./asPublished.js";
import { decideColumns } from "./columns/decideColumns.js";
import { type RuleColumns, ruleColumns } from "./columns/ruleColumns.js";
import { type CompiledRule, compileRule } from "./compileRule.js";
import { defineRule } from "./defineRule.js";
import type { RefractionCategories } from "./refractionCategories.js";
import type { ReferralRule, RuleChild } from "./types.js";

/** One category of one person: 1 is in it, 0 is not, 2 cannot be told. */
export interface CategoryOfPerson {
  readonly name: string;
  readonly in: "yes" | "no" | "undecidable";
}

/** One category of many persons as a column. */
export interface CategoryColumn {
  readonly name: string;
  /** 1 is in it, 0 is not, 2 cannot be told. */
  readonly codes: Uint8Array;
  readonly counts: { readonly yes: number; readonly no: number; readonly undecidable: number };
}

/** Refraction categories of one person. */
export interface CategorisedPerson {
  readonly kind: "categorised-person";
  readonly definition: string;
  readonly citation: string;
  readonly eye: Eye | null;
  readonly categories: readonly CategoryOfPerson[];
  readonly note: string;
}

/** Refraction categories of many persons, as columns. */
export interface CategorisedColumns {
  readonly kind: "categorised-columns";
  readonly definition: string;
  readonly citation: string;
  readonly eye: Eye | null;
  readonly n: number;
  readonly categories: readonly CategoryColumn[];
  readonly note: string;
}

export interface CategoriseOptions {
  /** Required where the definition is of one eye. */
  readonly eye?: Eye;
  /** Which side of a cohort; its findings by default. */
  readonly of?: "reading" | "finding";
}

/**
 * Categories of refraction by a published definition, three-valued as rules are. The definition
 * names the quantity and the relation; one of a single eye needs `eye`, so that nobody's eyes are
 * merged unseen.
 *
 * @throws when the definition is of one eye and none is named, or of a person and one is
 *
 * @example
 * categorise(refractionCategories["imi-2019"], { right: { sphere: -0.25, cylinder: -0.5, axis: 90 } }, { eye: "right" }).categories[0] // => { name: "myopia", in: "yes" }
 */
export function categorise(
  definition: RefractionCategories,
  children: RuleChild,
  options?: CategoriseOptions,
): CategorisedPerson;
export function categorise(
  definition: RefractionCategories,
  children: Cohort | RuleColumns,
  options?: CategoriseOptions,
): CategorisedColumns;
export function categorise(
  definition: RefractionCategories,
  children: RuleChild | Cohort | RuleColumns,
  options: CategoriseOptions = {},
): CategorisedPerson | CategorisedColumns {
  const { eye, of = "finding" } = options;
  if ((definition.of === "eye") !== (eye === "right" || eye === "left")) {
    const wanted = definition.of === "eye" ? 'eye: "right" or "left"' : "no eye";
    throw new InputError(
      `categorise requires ${wanted} for ${definition.id}, got ${eye ?? "none"}`,
    );
  }
  const facts = {
    definition: definition.id,
    citation: definition.citation,
    eye: eye ?? null,
    note: [definition.note, asPublished].filter((part) => part !== undefined).join(" "),
  };
  const rules = definition.categories.map(({ name, when }) => ({
    name,
    rule: ruleOf(definition, name, when, eye),
  }));
  if (!("kind" in children)) {
    const words = { refer: "yes", pass: "no", undecidable: "undecidable" } as const;
    const categories = rules.map(({ name, rule }) => ({
      name,
      in: words[applyToChild(rule, children).decision],
    }));
    return { kind: "categorised-person", ...facts, categories };
  }
  const columns = children.kind === "rule-columns" ? children : ruleColumns(children, of);
  const categories = rules.map(({ name, rule }) => {
    const { decision, counts } = decideColumns(rule, columns);
    const { refer, pass, undecidable } = counts;
    return { name, codes: decision.codes, counts: { yes: refer, no: pass, undecidable } };
  });
  return { kind: "categorised-columns", ...facts, n: columns.n, categories };
}

function ruleOf(
  definition: RefractionCategories,
  name: string,
  when: unknown,
  eye: Eye | undefined,
): CompiledRule {
  const rule = {
    kind: "rule",
    id: definition.id,
    title: `${definition.title}: ${name}`,
    definition: "published",
    citation: definition.citation,
    appliesTo: "finding",
    referWhen: eye === "left" ? onLeft(when) : when,
  };
  return compileRule(defineRule(rule) as ReferralRule);
}

/** Limits of one eye are written on the right eye. */
function onLeft(json: unknown): unknown {
  if (Array.isArray(json)) return json.map(onLeft);
  if (typeof json !== "object" || json === null) return json;
  return Object.fromEntries(
    Object.entries(json).map(([key, value]) => [
      key,
      key === "eye" && value === "right" ? "left" : onLeft(value),
    ]),
  );
}
