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
export function namedIssues(
  issue: core.$ZodIssue,
  shape?: () => object,
  json?: unknown,
): NamedIssue[] {
  return flat(issue).map((one) => ({ path: one.path, message: inWords(one, shape, json) }));
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

function inWords(issue: core.$ZodIssue, shape: (() => object) | undefined, json: unknown): string {
  if (issue.code === "invalid_value") {
    const given = valueAt(json, issue.path);
    const words = issue.values.map(String);
    if (typeof given === "string")
      return `requires one of its words, got "${given.slice(0, 40)}"; ${didYouMean(given, words, words.length)}`;
  }
  if (issue.code === "unrecognized_keys" && shape !== undefined) {
    const known = keysAt([made(shape) as Shape], issue.path);
    return `${issue.message}; ${didYouMean(issue.keys[0], known, known.length)}`;
  }
  const [, expected, received] = /expected (\w+), received (\w+)$/.exec(issue.message) ?? [];
  if (expected === undefined) return issue.message;
  return `requires ${kinds[expected] ?? expected}, got ${kinds[received] ?? received}`;
}

function valueAt(json: unknown, path: readonly PropertyKey[]): unknown {
  return path.reduce(
    (value: unknown, step) =>
      typeof value === "object" && value !== null && Object.hasOwn(value, step)
        ? (value as Record<PropertyKey, unknown>)[step]
        : undefined,
    json,
  );
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
