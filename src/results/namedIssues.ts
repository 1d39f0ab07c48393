import type { core } from "zod";
import { didYouMean } from "./didYouMean.js";

interface NamedIssue {
  readonly path: readonly PropertyKey[];
  readonly message: string;
}

/** A JSON Schema, as far as keys are looked up in it. */
interface Shape {
  readonly properties?: Readonly<Record<string, Shape>>;
  readonly additionalProperties?: Shape | boolean;
  readonly items?: Shape | boolean;
  readonly prefixItems?: readonly Shape[];
  readonly anyOf?: readonly Shape[];
  readonly oneOf?: readonly Shape[];
  readonly allOf?: readonly Shape[];
}

/**
 * An issue with its path, in words; where a value may have several shapes, the issues of the shape it comes
 * nearest to: the one that knows most of its keys, then the one with the fewest issues.
 *
 * @param shape the JSON Schema of the whole, where the keys that are allowed are to be named
 */
export function namedIssues(issue: core.$ZodIssue, shape?: () => object): NamedIssue[] {
  return flat(issue).map((one) => ({ path: one.path, message: inWords(one, shape) }));
}

/** A schema is made once, however many keys are wrong. */
const schemas = new WeakMap<() => object, object>();
function made(shape: () => object): object {
  const known = schemas.get(shape) ?? shape();
  schemas.set(shape, known);
  return known;
}

function flat(issue: core.$ZodIssue): core.$ZodIssue[] {
  if (issue.code !== "invalid_union" || issue.errors.length === 0) return [issue];
  const [nearest] = issue.errors.toSorted(
    (one, other) => strangeKeys(one) - strangeKeys(other) || one.length - other.length,
  );
  return nearest.flatMap(flat).map((one) => ({ ...one, path: [...issue.path, ...one.path] }));
}

function strangeKeys(issues: readonly core.$ZodIssue[]): number {
  return issues.reduce(
    (sum, issue) =>
      issue.path.length > 0
        ? sum
        : issue.code === "unrecognized_keys"
          ? sum + issue.keys.length
          : // no object, or another one altogether
            sum + 100,
    0,
  );
}

const kinds: Readonly<Record<string, string>> = {
  tuple: "a list in brackets",
  array: "a list in brackets",
  object: "an object in braces",
  record: "an object in braces",
  string: "a text in quotes",
  number: "a number",
  int: "a whole number",
  boolean: "true or false",
  undefined: "nothing; add this key",
  null: "null",
  NaN: "no number",
};

function inWords(issue: core.$ZodIssue, shape: (() => object) | undefined): string {
  if (issue.code === "unrecognized_keys" && shape !== undefined) {
    const known = keysAt([made(shape) as Shape], issue.path);
    return `${issue.message}; ${didYouMean(issue.keys[0], known, known.length)}`;
  }
  const [, expected, received] = /expected (\w+), received (\w+)$/.exec(issue.message) ?? [];
  if (expected === undefined) return issue.message;
  return `requires ${kinds[expected] ?? expected}, got ${kinds[received] ?? received}`;
}

/** The keys that may stand at a path, of all shapes that a value may have there. */
function keysAt(shapes: readonly Shape[], path: readonly PropertyKey[]): string[] {
  const open = shapes.flatMap(branches);
  const [step, ...rest] = path;
  if (step === undefined) {
    return [...new Set(open.flatMap(({ properties }) => Object.keys(properties ?? {})))];
  }
  const below = open.flatMap(({ properties, additionalProperties, items, prefixItems }) => {
    const found =
      typeof step === "number"
        ? (prefixItems?.[step] ?? items)
        : (properties?.[String(step)] ?? additionalProperties);
    return typeof found === "object" ? [found] : [];
  });
  return below.length === 0 ? [] : keysAt(below, rest);
}

function branches(shape: Shape): Shape[] {
  const parts = [...(shape.anyOf ?? []), ...(shape.oneOf ?? []), ...(shape.allOf ?? [])];
  return [shape, ...parts.flatMap(branches)];
}
