import { readFileSync } from "node:fs";
import { relative, resolve } from "node:path";
import ts from "typescript";

// The public face as it should read: the names of src/index.ts in its chapters, each with the first
// sentence of its docstring; and the types that somebody has to name.

const root = resolve(import.meta.dirname, "../..");
const path = resolve(root, "src/index.ts");
const internalPath = resolve(root, "src/internal.ts");

export interface PublicName {
  readonly name: string;
  readonly kind: "value" | "type";
  /** Where it is declared, from src/. */
  readonly file: string;
  readonly room: string;
  /** First sentence of the docstring; empty where there is none. */
  readonly summary: string;
  /** Types that its signature returns, or takes as data. */
  readonly names: readonly string[];
}

const options: ts.CompilerOptions = {
  module: ts.ModuleKind.NodeNext,
  moduleResolution: ts.ModuleResolutionKind.NodeNext,
  target: ts.ScriptTarget.ES2022,
  lib: ["lib.es2023.d.ts"],
  types: ["node"],
  noEmit: true,
  skipLibCheck: true,
  strict: true,
};

/** The public face and what is internal, with their types. */
export const faceProgram = (): ts.Program => ts.createProgram([path, internalPath], options);

export function publicNames(program: ts.Program): PublicName[] {
  const checker = program.getTypeChecker();
  const module = checker.getSymbolAtLocation(program.getSourceFile(path)!)!;
  return checker.getExportsOfModule(module).map((found) => {
    const symbol = found.flags & ts.SymbolFlags.Alias ? checker.getAliasedSymbol(found) : found;
    const declarations = symbol.declarations ?? [];
    const file = relative(resolve(root, "src"), declarations[0]!.getSourceFile().fileName);
    return {
      name: found.name,
      kind: symbol.flags & ts.SymbolFlags.Value ? "value" : "type",
      file,
      room: file.split(/[\\/]/)[0]!,
      summary: firstSentence(ts.displayPartsToString(symbol.getDocumentationComment(checker))),
      names: declarations.filter(ts.isFunctionDeclaration).flatMap(namesOf),
    };
  });
}

/** Types in what a function returns, and in its parameters but for those that are options. */
function namesOf(declaration: ts.FunctionDeclaration): string[] {
  const found: string[] = [];
  const visit = (node: ts.Node): void => {
    if (ts.isTypeReferenceNode(node) && ts.isIdentifier(node.typeName)) {
      found.push(node.typeName.text);
    }
    ts.forEachChild(node, visit);
  };
  if (declaration.type) visit(declaration.type);
  for (const { type } of declaration.parameters) if (type) visit(type);
  return found.filter((name) => !name.endsWith("Options"));
}

/** The first sentence; of a long one what stands before a colon, a bracket or the last comma. */
export function firstSentence(text: string): string {
  const line = text
    .split(/\n\s*\n/)[0]!
    .replace(/\s+/g, " ")
    .trim();
  const end = /(?<!\b(?:al|e\.g|i\.e|vs|cf))\.(?= [A-Z`"“(]|$)/.exec(line);
  const sentence = end === null ? line : line.slice(0, end.index);
  if (sentence.length <= longest) return `${sentence}.`;
  const start = sentence.slice(0, longest);
  for (const mark of [/[:;] /g, / \(/g, /, /g]) {
    const at = [...start.matchAll(mark)].map(({ index }) => index).filter((place) => place >= 20);
    if (at.length > 0) return `${start.slice(0, mark.source === ", " ? at.at(-1) : at[0])}.`;
  }
  return `${start.slice(0, start.lastIndexOf(" "))} ...`;
}

/** Characters of a summary. */
const longest = 110;

/** src/index.ts with the summary behind each name. */
export function withSummaries(text: string, names: readonly PublicName[]): string {
  const summaries = new Map(names.map(({ name, summary }) => [name, summary]));
  return text.replace(
    /^export (type )?\{([^}]*)\} from ("[^"]+");$/gm,
    (_, type: string | undefined, list: string, from: string) => {
      const entries = list
        .replace(/\/\/.*$/gm, "")
        .split(",")
        .map((entry) => entry.trim())
        .filter((entry) => entry !== "")
        .map((entry) => `  ${entry}, // ${summaries.get(entry.replace(/^type /, "")) ?? ""}`);
      return `export ${type ?? ""}{\n${entries.join("\n")}\n} from ${from};`;
    },
  );
}

export const faceText = (): string => readFileSync(path, "utf8");
export const facePath = path;

/** Names of public functions and of their columns that hold words or numbers, by their types. */
export function publicColumns(program: ts.Program, names: readonly string[]): string[] {
  const checker = program.getTypeChecker();
  const found = new Set<string>();
  const look = (type: ts.Type, path: string, source: ts.SourceFile) => {
    for (const property of type.getProperties()) {
      const inner = checker.getNonNullableType(checker.getTypeOfSymbolAtLocation(property, source));
      const entry = checker.getIndexTypeOfType(inner, ts.IndexKind.Number);
      const label = entry?.isUnion() && entry.types.some((one) => one.flags & ts.TypeFlags.String);
      if (names.includes(property.name) && label) found.add(path + property.name);
      if (/^(examination|first|second)$/.test(property.name) && entry === undefined) {
        look(inner, `${path}${property.name}.`, source);
      }
    }
  };
  for (const face of [path, internalPath]) {
    const source = program.getSourceFile(face)!;
    for (const symbol of checker.getExportsOfModule(checker.getSymbolAtLocation(source)!)) {
      const type = checker.getTypeOfSymbolAtLocation(symbol, source);
      for (const parameter of type.getCallSignatures().flatMap((one) => one.parameters)) {
        const given = checker.getTypeOfSymbolAtLocation(parameter, source);
        for (const part of given.isUnion() ? given.types : [given]) {
          look(part, `${symbol.name} `, source);
        }
      }
    }
  }
  return [...found].sort();
}
