import { type Shape, shapes } from "./shapes.js";

/** Whether a value is of a plain shape: a number, a word, yes or no, one of some words. */
export function fits(shape: Shape, value: unknown): boolean {
  if (typeof shape === "object") {
    if ("is" in shape) return shape.is.includes(value as string);
    if ("any" in shape) return shape.any.some((one) => fits(one, value));
    return false;
  }
  if (shape === "any") return true;
  if (value === null) return shape === "null";
  if (shape.startsWith("#")) return fits(shapes().named[shape]!, value);
  if (/^[A-Z]/.test(shape)) return Object.prototype.toString.call(value) === `[object ${shape}]`;
  return typeof value === shape;
}

/** A list or a typed array; a word is none, although it has letters in order. */
export function isColumn(value: unknown): value is ArrayLike<unknown> {
  if (typeof value !== "object" || value === null) return false;
  return (
    Array.isArray(value) ||
    (ArrayBuffer.isView(value) && "length" in value) ||
    ("length" in value && Number.isSafeInteger(value.length) && !("keys" in value))
  );
}

/** An object that is nothing but its members. */
export function isPlain(value: unknown): value is { readonly [key: string]: unknown } {
  if (typeof value !== "object" || value === null) return false;
  const kind = Object.getPrototypeOf(value);
  return kind === Object.prototype || kind === null;
}

const words: { readonly [shape: string]: string } = {
  any: "a value",
  boolean: "true or false",
  function: "a function",
  null: "null",
  number: "a number",
  object: "an object",
  string: "a word",
  undefined: "nothing",
};

/** What a shape asks for, in words. */
export function wordsOf(shape: Shape): string {
  if (typeof shape === "string") {
    return shape.startsWith("#") ? wordsOf(shapes().named[shape]!) : (words[shape] ?? `a ${shape}`);
  }
  if ("is" in shape) return listed(shape.is.map((one) => JSON.stringify(one)));
  if ("any" in shape) return listed([...new Set(shape.any.map(wordsOf))]);
  if ("of" in shape) return columnWords(shape.of);
  if ("tuple" in shape) return `a list of ${shape.tuple.length}`;
  const needed = Object.keys(shape.keys ?? {}).filter((key) => !key.endsWith("?"));
  if (needed.length === 0) return "an object";
  const more = needed.length > 4 ? ", ..." : "";
  return `an object with ${needed.slice(0, 4).join(", ")}${more}`;
}

function columnWords(of: Shape): string {
  if (of === "number") return "a list of numbers";
  if (of === "string") return "a list of words";
  if (fits(of, "") && fits(of, 0)) return "a list of words or numbers";
  return fits(of, true) && fits(of, 0) ? "a list of yes or no (true or 1, false or 0)" : "a list";
}

/** What one row of a column asks for, in words. */
export function listed(names: readonly string[]): string {
  return names.length < 2
    ? (names[0] ?? "a value")
    : `${names.slice(0, -1).join(", ")} or ${names.at(-1)}`;
}
