import { type Node, parse } from "acorn";
import { transform } from "sucrase";

/** A cell as a script of its own, on the same lines. */
export interface CellScript {
  readonly text: string;
  readonly imports: readonly CellImport[];
}

export interface CellImport {
  readonly from: string;
  /** The name in the cell, and what it is called there; "*" for all of it. */
  readonly names: readonly (readonly [own: string, theirs: string])[];
}

/** A cell that cannot be read, with its line, from 1. */
export class CellSyntaxError extends SyntaxError {
  override readonly name = "SyntaxError";
  constructor(
    message: string,
    readonly line: number,
  ) {
    super(message);
  }
}

/**
 * A cell's TypeScript as a script that hands an async function to `handOver$`. Types are stripped, not
 * checked; imports are taken out and told; at top level only, names that are declared are handed over at
 * the end, with the value of the last expression. An import() is asked of `import$`.
 *
 * @param shadowed names of earlier cells that stand before what the browser calls so
 */
export function cellScript(source: string, name: string, shadowed: boolean): CellScript {
  const code = withoutTypes(source);
  const program = parsed(code);
  const edits: Edit[] = [];
  const imports: CellImport[] = [];
  const declared: string[] = [];
  for (const node of program.body) {
    switch (node.type) {
      case "ImportDeclaration":
        imports.push(importOf(node));
        edits.push({ from: node.start, to: node.end, text: blank(code, node) });
        break;
      case "ExportNamedDeclaration":
        if (node.declaration == null) refuse(code, node, "an export of names");
        edits.push({ from: node.start, to: node.declaration.start, text: "" });
        declared.push(...declaredBy(node.declaration));
        break;
      case "ExportAllDeclaration":
      case "ExportDefaultDeclaration":
        refuse(code, node, "an export");
        break;
      default:
        declared.push(...declaredBy(node));
    }
  }
  const last = program.body.at(-1);
  if (last?.type === "ExpressionStatement") {
    edits.push({ from: last.start, to: last.start, text: ";shown$=(" });
    const end = code[last.end - 1] === ";" ? last.end - 1 : last.end;
    edits.push({ from: end, to: last.end, text: ");" });
  }
  for (const at of importCalls(program)) edits.push({ from: at, to: at + 6, text: "import$" });
  const names = [...new Set(declared)].map((own) => `${own}:[()=>${own},v$=>{${own}=v$}]`);
  const [open, close] = shadowed ? ["with(names$){", "}"] : ["", ""];
  const text =
    `handOver$(function(names$,import$){${open}return async()=>{"use strict";let shown$;${edited(code, edits)}\n` +
    `;return{shown:shown$,names:{${names.join(",")}}}}${close}});\n//# sourceURL=${name}\n`;
  return { text, imports };
}

function withoutTypes(source: string): string {
  try {
    return transform(source, {
      transforms: ["typescript"],
      disableESTransforms: true,
      keepUnusedImports: true,
    }).code;
  } catch (error) {
    throw syntaxError(error);
  }
}

function parsed(code: string) {
  try {
    return parse(code, {
      ecmaVersion: "latest",
      sourceType: "module",
      allowAwaitOutsideFunction: true,
    });
  } catch (error) {
    throw syntaxError(error);
  }
}

/** The libraries write "(3:5)" behind what is wrong, and the first one its own words before it. */
function syntaxError(error: unknown): CellSyntaxError {
  const { message, loc } = error as Error & { loc?: { readonly line: number } };
  const line = loc?.line ?? Number(/\((\d+):\d+\)/.exec(message)?.[1] ?? 1);
  const words = message.replace(/^Error transforming .*?: /, "").replace(/ \(\d+:\d+\)$/, "");
  return new CellSyntaxError(words, line);
}

function refuse(code: string, { start }: Node, what: string): never {
  const line = code.slice(0, start).split("\n").length;
  throw new CellSyntaxError(`a cell requires declarations, got ${what}`, line);
}

type Statement = ReturnType<typeof parsed>["body"][number];
type Import = Extract<Statement, { type: "ImportDeclaration" }>;
type Pattern = Extract<Statement, { type: "VariableDeclaration" }>["declarations"][number]["id"];

function importOf({ source, specifiers }: Import): CellImport {
  const names = specifiers.map((one): readonly [string, string] => {
    if (one.type === "ImportNamespaceSpecifier") return [one.local.name, "*"];
    if (one.type === "ImportDefaultSpecifier") return [one.local.name, "default"];
    const { imported } = one;
    return [
      one.local.name,
      imported.type === "Identifier" ? imported.name : String(imported.value),
    ];
  });
  return { from: String(source.value), names };
}

function declaredBy(node: Statement | Node): string[] {
  const statement = node as Statement;
  if (statement.type === "VariableDeclaration") {
    return statement.declarations.flatMap(({ id }) => namesIn(id));
  }
  const isNamed = statement.type === "FunctionDeclaration" || statement.type === "ClassDeclaration";
  return isNamed ? [statement.id.name] : [];
}

function namesIn(pattern: Pattern): string[] {
  switch (pattern.type) {
    case "Identifier":
      return [pattern.name];
    case "ObjectPattern":
      return pattern.properties.flatMap((one) =>
        namesIn(one.type === "RestElement" ? one.argument : one.value),
      );
    case "ArrayPattern":
      return pattern.elements.flatMap((one) => (one === null ? [] : namesIn(one)));
    case "RestElement":
      return namesIn(pattern.argument);
    case "AssignmentPattern":
      return namesIn(pattern.left);
    default:
      return [];
  }
}

/** Where import() is called, at any depth. */
function importCalls(node: unknown): number[] {
  if (typeof node !== "object" || node === null) return [];
  const own = (node as Node).type === "ImportExpression" ? [(node as Node).start] : [];
  return [...own, ...Object.values(node).flatMap(importCalls)];
}

interface Edit {
  readonly from: number;
  readonly to: number;
  readonly text: string;
}

function edited(code: string, edits: readonly Edit[]): string {
  return [...edits]
    .sort((a, b) => b.from - a.from || b.to - a.to)
    .reduce((text, { from, to, text: put }) => text.slice(0, from) + put + text.slice(to), code);
}

/** The lines of what is taken out stay. */
function blank(code: string, { start, end }: Node): string {
  return code.slice(start, end).replace(/[^\n]/g, "");
}
