import ts from "typescript";
import type { Members, Parameter, Shape } from "../../src/boundary/index.js";

// What the boundary compares values with: the types of the public functions, as plain data.

const flags = ts.TypeFlags;
const opaque = /^(?:Readonly)?(AbortSignal|Date|Map|RegExp|Set)$/;
const numbers = /^(Float|Int|Uint)(8|16|32|64)(Clamped)?Array$/;

/** src/boundary/shapes.jsonl: a public function, or a shape with a name, each line. */
export function shapesText(program: ts.Program, path: string): string {
  const checker = program.getTypeChecker();
  const source = program.getSourceFile(path)!;
  const named = new Map<string, Shape>();
  const nameOf = new Map<ts.Type, string>();
  const typeOf = (symbol: ts.Symbol) => checker.getTypeOfSymbolAtLocation(symbol, source);
  const present = (type: ts.Type) => checker.getNonNullableType(type);

  /** The name of a shape, which is made at the first time that it is asked for. */
  function reference(type: ts.Type, make: () => Shape): string {
    const known = nameOf.get(type);
    if (known !== undefined) return known;
    const own = (type.aliasSymbol ?? type.symbol)?.name ?? "";
    const plain = own === "" || own.startsWith("__") ? "Members" : own;
    let name = `#${plain}`;
    for (let next = 2; named.has(name); next++) name = `#${plain}${next}`;
    nameOf.set(type, name);
    named.set(name, "any");
    named.set(name, make());
    return name;
  }

  function shapeOf(type: ts.Type): Shape {
    const { flags: is } = type;
    if (is & (flags.TypeParameter | flags.Conditional | flags.IndexedAccess)) {
      const least = checker.getBaseConstraintOfType(type);
      return least === undefined || least.flags & flags.Unknown ? "any" : shapeOf(least);
    }
    if (is & (flags.Any | flags.Unknown)) return "any";
    if (is & flags.NonPrimitive) return "object";
    if (is & (flags.Undefined | flags.Void)) return "undefined";
    if (is & flags.Null) return "null";
    if (type.isStringLiteral() || type.isNumberLiteral()) return { is: [type.value] };
    if (is & flags.BooleanLiteral) return { is: [checker.typeToString(type) === "true"] };
    if (is & flags.Boolean) return "boolean";
    if (is & flags.NumberLike) return "number";
    if (is & flags.StringLike) return "string";
    if (type.isUnion()) {
      const words = type.types.every((one) => one.isLiteral());
      return type.aliasSymbol && !words ? reference(type, () => choice(type)) : choice(type);
    }
    if (type.getCallSignatures().length > 0) return "function";
    const own = type.symbol?.name ?? "";
    if (numbers.test(own)) return { of: "number" };
    const known = opaque.exec(own);
    if (known) return known[1]!;
    if (checker.isTupleType(type)) {
      return { tuple: checker.getTypeArguments(type as ts.TypeReference).map(shapeOf) };
    }
    const entry = checker.getIndexTypeOfType(type, ts.IndexKind.Number);
    if (entry && type.getProperty("length")) return { of: shapeOf(entry) };
    return reference(type, () => members(type));
  }

  function choice(type: ts.UnionType): Shape {
    const parts = type.types.map(shapeOf);
    const words = parts.flatMap((one) => (typeof one === "object" && "is" in one ? one.is : []));
    const both = words.includes(true) && words.includes(false);
    const literals = both ? words.filter((one) => typeof one !== "boolean") : words;
    const forms: Shape[] = parts.filter((one) => typeof one !== "object" || !("is" in one));
    if (both) forms.push("boolean");
    if (literals.length > 0) forms.push({ is: literals });
    const any = [...new Map(forms.map((one) => [JSON.stringify(one), one])).values()];
    if (any.includes("any")) return "any";
    return any.length === 1 ? any[0]! : { any };
  }

  function members(type: ts.Type): Members {
    const each = checker.getIndexTypeOfType(type, ts.IndexKind.String);
    const keys: Record<string, Shape> = {};
    for (const property of checker.getPropertiesOfType(type)) {
      if (property.name.startsWith("__@")) continue;
      const optional = (property.flags & ts.SymbolFlags.Optional) !== 0;
      const given = typeOf(property);
      const withoutNothing =
        optional && given.isUnion()
          ? given.types.filter((one) => !(one.flags & flags.Undefined))
          : [];
      const shape =
        withoutNothing.length === 1
          ? shapeOf(withoutNothing[0]!)
          : withoutNothing.some((one) => one.flags & flags.Null)
            ? shapeOf(given)
            : shapeOf(optional ? present(given) : given);
      keys[optional ? `${property.name}?` : property.name] = shape;
    }
    return {
      ...(each && { each: shapeOf(each) }),
      ...(Object.keys(keys).length > 0 && { keys }),
    };
  }

  function parameter(symbol: ts.Symbol): Parameter {
    const declared = symbol.valueDeclaration as ts.ParameterDeclaration;
    const optional = declared.questionToken !== undefined || declared.initializer !== undefined;
    return {
      name: symbol.name,
      shape: shapeOf(typeOf(symbol)),
      ...(optional && { optional }),
      ...(declared.dotDotDotToken && { rest: true }),
    };
  }

  const module = checker.getSymbolAtLocation(source)!;
  const calls = checker
    .getExportsOfModule(module)
    .map((found) => ({
      name: found.name,
      signatures: typeOf(
        found.flags & ts.SymbolFlags.Alias ? checker.getAliasedSymbol(found) : found,
      ).getCallSignatures(),
    }))
    .filter(({ signatures }) => signatures.length > 0)
    .map(({ name, signatures }): [string, unknown] => [
      name,
      signatures.map(({ parameters }) => parameters.map(parameter)),
    ]);
  const lines = [...byName(calls), ...byName([...named])];
  return `${lines.map((line) => JSON.stringify(line)).join("\n")}\n`;
}

const byName = (entries: readonly [string, unknown][]) =>
  entries.toSorted(([one], [other]) => (one < other ? -1 : 1));

/** src/face.ts: the functions behind the boundary, and the rest as it is. */
export function guardedText(contents: { readonly [name: string]: unknown }): string {
  const isFunction = (name: string) =>
    typeof contents[name] === "function" && !/^class\b/.test(String(contents[name]));
  const names = Object.keys(contents).sort();
  const list = (some: readonly string[]) => some.map((name) => `  ${name},\n`).join("");
  return `// Written by \`npm run face\` from index.ts: its functions, each behind the boundary of values.

import { guarded } from "./boundary/index.js";
import * as index from "./index.js";

export type * from "./index.js";
export {
${list(names.filter((name) => !isFunction(name)))}} from "./index.js";
export const {
${list(names.filter(isFunction))}} = guarded(index);
`;
}
