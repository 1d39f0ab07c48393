// The reference from the sources: every name of the public face with its docstring, its parameters with
// their defaults, and the fields of what it returns. Read by the compiler's own programming interface.
import { readFileSync } from "node:fs";
import { join, relative } from "node:path";
import ts from "typescript";

/** Chapters of src/index.ts, each with its entries, sorted by name. */
export function referenceOf(root) {
  const path = join(root, "src/index.ts");
  const program = ts.createProgram([path], {
    module: ts.ModuleKind.NodeNext,
    moduleResolution: ts.ModuleResolutionKind.NodeNext,
    target: ts.ScriptTarget.ES2022,
    lib: ["lib.es2023.d.ts"],
    types: ["node"],
    noEmit: true,
    skipLibCheck: true,
    strict: true,
  });
  const checker = program.getTypeChecker();
  const source = program.getSourceFile(path);
  const chapterOf = chaptersOf(readFileSync(path, "utf8"));
  const chapters = new Map();
  for (const found of checker.getExportsOfModule(checker.getSymbolAtLocation(source))) {
    const symbol = found.flags & ts.SymbolFlags.Alias ? checker.getAliasedSymbol(found) : found;
    const { chapter, summary } = chapterOf.get(found.name);
    const entry = { ...entryOf(symbol, found.name, { checker, root }), summary };
    if (!chapters.has(chapter)) chapters.set(chapter, []);
    chapters.get(chapter).push(entry);
  }
  return [...chapters].map(([title, entries]) => ({
    title,
    slug: title.split(":")[0].trim().toLowerCase().replace(/[^a-z]+/g, "-"),
    entries: entries.sort((a, b) => a.name.localeCompare(b.name)),
  }));
}

/** Name to chapter and summary: a line "// chapter: what it holds" stands above its exports. */
function chaptersOf(text) {
  const found = new Map();
  let chapter = "";
  for (const line of text.split("\n").slice(1)) {
    const title = /^\/\/ (.+)/.exec(line);
    if (title) chapter = title[1];
    const name = /^ {2}(?:type )?(\w+), \/\/ (.+)/.exec(line);
    if (name) found.set(name[1], { chapter, summary: name[2] });
  }
  return found;
}

function entryOf(symbol, name, { checker, root }) {
  const declarations = symbol.declarations ?? [];
  const functions = declarations.filter(ts.isFunctionDeclaration);
  const file = relative(root, declarations[0].getSourceFile().fileName);
  const tags = symbol.getJsDocTags(checker);
  const tagged = (wanted) =>
    tags.filter((tag) => tag.name === wanted).map((tag) => ts.displayPartsToString(tag.text));
  const shared = {
    name,
    file,
    room: file.split("/")[1],
    text: ts.displayPartsToString(symbol.getDocumentationComment(checker)),
    throws: tagged("throws"),
    examples: tagged("example"),
    returns: tagged("returns").join(" "),
  };
  if (functions.length > 0) {
    const signatures = functions.length > 1 ? functions.filter(({ body }) => !body) : functions;
    const notes = new Map(tagged("param").map(splitParameter));
    return {
      ...shared,
      kind: "function",
      signatures: signatures.map((one) => signatureOf(name, one, notes)),
      parameters: parametersOf(functions.at(-1), signatures[0], notes, checker),
      result: resultOf(functions[0], checker),
    };
  }
  if (symbol.flags & ts.SymbolFlags.Value) {
    const type = checker.getTypeOfSymbol(symbol);
    const isClass = declarations.some(ts.isClassDeclaration);
    return { ...shared, kind: isClass ? "class" : "value", type: textOf(type, checker) };
  }
  const type = checker.getDeclaredTypeOfSymbol(symbol);
  return {
    ...shared,
    kind: "type",
    type: declarations[0].type ? oneLine(declarations[0].type.getText()) : "",
    fields: fieldsOf(type, checker),
  };
}

const splitParameter = (text) => {
  const [, name, words] = /^(\S+)\s*([\s\S]*)$/.exec(text) ?? [null, text, ""];
  return [name, words];
};

const oneLine = (text) => text.replace(/\/\*\*[\s\S]*?\*\//g, "").replace(/\s+/g, " ").trim();

/** A destructured parameter has no name: it is called as its note calls it, else "options". */
function parameterName(parameter, notes, at) {
  if (ts.isIdentifier(parameter.name)) return parameter.name.text;
  const named = [...notes.keys()].filter((name) => !name.includes("."));
  return named[at] ?? [...notes.keys()].find((name) => name.includes("."))?.split(".")[0] ?? "options";
}

function signatureOf(name, declaration, notes) {
  const list = declaration.parameters.map((parameter, at) => {
    const rest = parameter.dotDotDotToken ? "..." : "";
    const may = parameter.questionToken || parameter.initializer ? "?" : "";
    return `${rest}${parameterName(parameter, notes, at)}${may}`;
  });
  const returned = declaration.type ? oneLine(declaration.type.getText()) : "unknown";
  return `${name}(${list.join(", ")}): ${returned}`;
}

/** Defaults: of a destructured parameter, or of what the body takes out of it first. */
function defaultsOf(parameter, body) {
  const found = new Map();
  const take = (pattern) => {
    for (const { name, propertyName, initializer } of pattern.elements) {
      const key = propertyName?.getText() ?? name.getText();
      if (initializer) found.set(key, oneLine(initializer.getText()));
    }
  };
  if (ts.isObjectBindingPattern(parameter.name)) take(parameter.name);
  else {
    const visit = (node) => {
      if (
        ts.isVariableDeclaration(node) &&
        ts.isObjectBindingPattern(node.name) &&
        node.initializer?.getText() === parameter.name.text
      ) {
        take(node.name);
      }
      ts.forEachChild(node, visit);
    };
    if (body) visit(body);
  }
  return found;
}

function parametersOf(declaration, shown, notes, checker) {
  return shown.parameters.map((parameter, at) => {
    const name = parameterName(parameter, notes, at);
    const type = checker.getTypeAtLocation(parameter);
    const own = declaration.parameters[at] ?? parameter;
    const defaults = defaultsOf(own, declaration.body);
    const fields = isOwnObject(type) ? fieldsOf(type, checker) : [];
    return {
      name,
      optional: Boolean(parameter.questionToken || parameter.initializer),
      type: parameter.type ? oneLine(parameter.type.getText()) : textOf(type, checker),
      note: notes.get(name) ?? "",
      fields: fields.map((field) => ({
        ...field,
        default: defaults.get(field.name) ?? "",
        note: notes.get(`${name}.${field.name}`) ?? field.note,
      })),
    };
  });
}

/** Declared in the sources, and no array or function. */
const isOwnObject = (type) => {
  const members = type.isUnionOrIntersection() ? type.types : [type];
  return members.some((one) => {
    const declaration = one.symbol?.declarations?.[0] ?? one.aliasSymbol?.declarations?.[0];
    return (
      declaration !== undefined &&
      !declaration.getSourceFile().fileName.includes("node_modules") &&
      one.getCallSignatures().length === 0
    );
  });
};

/** Fields of the objects that a field holds, alone, in an array or by a name. */
function partsOf(type, checker, depth) {
  const members = type.isUnion() ? type.types : [type];
  return members.flatMap((one) => {
    const item = checker.getIndexTypeOfType(one, ts.IndexKind.Number) ?? checker.getIndexTypeOfType(one, ts.IndexKind.String) ?? one;
    return (item.isUnion() ? item.types : [item])
      .filter((part) => part.flags & ts.TypeFlags.Object && isOwnObject(part) && !ts.isTypeParameter?.(part))
      .map((part) => ({ type: textOf(part, checker), fields: fieldsOf(part, checker, depth) }))
      .filter(({ fields }) => fields.length > 0);
  });
}

function fieldsOf(type, checker, depth = 1) {
  const members = type.isUnion() ? type.types.filter((one) => one.flags & ts.TypeFlags.Object) : [type];
  const fields = new Map();
  for (const member of members) {
    for (const property of member.getProperties()) {
      const [declaration] = property.declarations ?? [];
      if (!declaration || declaration.getSourceFile().fileName.includes("node_modules")) continue;
      const own = textOf(checker.getTypeOfSymbolAtLocation(property, declaration), checker);
      const before = fields.get(property.name);
      if (before && before.type !== own && !before.type.split(" | ").includes(own)) {
        before.type = `${before.type} | ${own}`;
      }
      if (before) continue;
      fields.set(property.name, {
        name: property.name,
        optional: Boolean(property.flags & ts.SymbolFlags.Optional),
        type: own,
        note: ts.displayPartsToString(property.getDocumentationComment(checker)),
        parts: depth === 0 ? [] : partsOf(checker.getTypeOfSymbolAtLocation(property, declaration), checker, depth - 1),
      });
    }
  }
  return [...fields.values()];
}

function textOf(type, checker) {
  const text = checker.typeToString(type, undefined, ts.TypeFormatFlags.None);
  return oneLine(text).replace(/import\("[^"]*"\)\./g, "").replace(/ \| undefined$/, "");
}

/** What it returns: a promise is what it promises. */
function resultOf(declaration, checker) {
  const signature = checker.getSignatureFromDeclaration(declaration);
  let type = checker.getReturnTypeOfSignature(signature);
  if (type.symbol?.name === "Promise") type = checker.getTypeArguments(type)[0] ?? type;
  const fields = isOwnObject(type) ? fieldsOf(type, checker) : [];
  const kind = fields.find(({ name }) => name === "kind");
  return { type: textOf(type, checker), kinds: kind ? [...kind.type.matchAll(/"([^"]+)"/g)].map(([, one]) => one) : [], fields };
}
