// What a notebook cell sees: the built package through the kernel's own compiler, which is
// TypeScript 5.0 with the old module resolution and without strictness.
import { createRequire } from "node:module";
import { dirname, join, resolve } from "node:path";
import type ts from "typescript";
import { beforeAll, describe, expect, it } from "vitest";

const root = resolve(import.meta.dirname, "../..");
const fromKernel = createRequire(createRequire(import.meta.url).resolve("tslab/package.json"));
const compiler = fromKernel("@tslab/typescript-for-tslab") as typeof ts;

const cell = join(root, "notebooks", "every-export.ts");
const options: ts.CompilerOptions = {
  target: compiler.ScriptTarget.ES2020,
  module: compiler.ModuleKind.CommonJS,
  moduleResolution: compiler.ModuleResolutionKind.Node10,
  esModuleInterop: true,
  noEmit: true,
  strict: false,
  // the declarations of the package are checked too
  skipLibCheck: false,
  types: ["node"],
  typeRoots: [join(dirname(fromKernel.resolve("tslab/package.json")), "node_modules", "@types")],
};

function compile(source: string): ts.Program {
  const host = compiler.createCompilerHost(options);
  const read = host.getSourceFile.bind(host);
  const exists = host.fileExists.bind(host);
  host.fileExists = (path) => path === cell || exists(path);
  host.getSourceFile = (path, version, ...rest) =>
    path === cell ? compiler.createSourceFile(path, source, version) : read(path, version, ...rest);
  return compiler.createProgram([cell], options, host);
}

function complaints(source: string): string[] {
  const program = compile(source);
  return compiler
    .getPreEmitDiagnostics(program)
    .filter(({ file }) => !file?.fileName.includes("/node_modules/"))
    .map(({ file, messageText }) => {
      const where = file === undefined ? "" : `${file.fileName.slice(root.length + 1)}: `;
      return where + compiler.flattenDiagnosticMessageText(messageText, " ");
    });
}

describe("a notebook cell", () => {
  let program: ts.Program;
  let checker: ts.TypeChecker;
  let exported: ts.Symbol[];

  beforeAll(() => {
    expect(compiler.version).toMatch(/^5\.0\./);
    program = compile('import * as meridional from "meridional";\nmeridional;');
    checker = program.getTypeChecker();
    const statement = program.getSourceFile(cell)!.statements[0] as ts.ImportDeclaration;
    const module = checker.getSymbolAtLocation(statement.moduleSpecifier)!;
    exported = checker
      .getExportsOfModule(module)
      .map((symbol) =>
        symbol.flags & compiler.SymbolFlags.Alias ? checker.getAliasedSymbol(symbol) : symbol,
      );
  }, 60_000);

  it("compiles with every public export in it", () => {
    const names = exported.map(({ name }) => name);
    expect(names).toContain("createRandom");
    const source = exported
      .map((symbol) => {
        const used = symbol.flags & compiler.SymbolFlags.Value ? `\n${symbol.name};` : "";
        return `import { ${symbol.name} } from "meridional";${used}`;
      })
      .join("\n");
    expect(complaints(source)).toEqual([]);
  });

  it("would complain about a name that is not exported, and about a wrong argument", () => {
    expect(complaints('import { nothing } from "meridional";\nnothing;')).not.toEqual([]);
    const wrong = 'import { createRandom } from "meridional";\ncreateRandom("seven");';
    expect(complaints(wrong)).not.toEqual([]);
  });

  it("sees no any in what a public function or constant gives", () => {
    const found = exported.flatMap((symbol) => {
      if (!(symbol.flags & compiler.SymbolFlags.Value)) {
        return anyIn(checker.getDeclaredTypeOfSymbol(symbol), symbol.name);
      }
      const type = checker.getTypeOfSymbolAtLocation(symbol, program.getSourceFile(cell)!);
      const calls = type.getCallSignatures();
      if (calls.length === 0) return anyIn(type, symbol.name);
      return calls.flatMap((call) => anyIn(call.getReturnType(), `${symbol.name}()`));
    });
    expect(found).toEqual([]);
  });

  it("would see an any that is planted", () => {
    const planted = compile("const planted = { inner: [{ deep: JSON.parse('1') }] };\nplanted;");
    const statement = planted.getSourceFile(cell)!.statements[1] as ts.ExpressionStatement;
    checker = planted.getTypeChecker();
    const type = checker.getTypeAtLocation(statement.expression);
    expect(anyIn(type, "planted")).toEqual(["planted.inner<>.deep"]);
  });

  function anyIn(type: ts.Type, path: string, seen = new Set<ts.Type>()): string[] {
    if (type.flags & compiler.TypeFlags.Any) return [path];
    if (seen.has(type) || path.split(".").length > 12) return [];
    seen.add(type);
    if (type.isUnionOrIntersection()) return type.types.flatMap((part) => anyIn(part, path, seen));
    const parts = checker.getTypeArguments(type as ts.TypeReference) ?? [];
    const inside = parts.flatMap((part) => anyIn(part, `${path}<>`, seen));
    const index = type.getStringIndexType();
    if (index) inside.push(...anyIn(index, `${path}[]`, seen));
    if (!ours(type)) return inside;
    return inside.concat(
      type.getProperties().flatMap((property) => {
        const member = checker.getTypeOfSymbolAtLocation(property, program.getSourceFile(cell)!);
        return anyIn(member, `${path}.${property.name}`, seen);
      }),
    );
  }

  /** Declared in this package or in the cell; what lies inside an array or a promise of the language is not. */
  function ours(type: ts.Type): boolean {
    const file = type.symbol?.declarations?.[0]?.getSourceFile().fileName ?? "";
    return file === cell || file.startsWith(join(root, "dist"));
  }
});
