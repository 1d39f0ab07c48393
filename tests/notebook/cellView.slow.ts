// What a notebook cell sees: the built package through the kernel's own compiler, which is
// TypeScript 5.0 with the old module resolution and without strictness.
import { createRequire } from "node:module";
import { dirname, join, resolve } from "node:path";
import type ts from "typescript";
import { beforeAll, describe, expect, it } from "vitest";

const root = resolve(import.meta.dirname, "../..");
const fromKernel = createRequire(createRequire(import.meta.url).resolve("tslab/package.json"));
const compiler = fromKernel("@tslab/typescript-for-tslab") as typeof ts;

const cellNamed = (name: string) => join(root, "notebooks", `${name}.ts`);
const cell = cellNamed("every-export");
const planted = {
  [cellNamed("unknown-name")]: 'import { nothing } from "meridional";\nnothing;',
  [cellNamed("wrong-argument")]:
    'import { createRandom } from "meridional";\ncreateRandom("seven");',
};
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

/** Cells beside each other, each a file; the package's declarations are read and checked once. */
function compile(sources: { readonly [path: string]: string }): ts.Program {
  const host = compiler.createCompilerHost(options);
  const read = host.getSourceFile.bind(host);
  const exists = host.fileExists.bind(host);
  host.fileExists = (path) => path in sources || exists(path);
  host.getSourceFile = (path, version, ...rest) => {
    const source = sources[path];
    if (source !== undefined) return compiler.createSourceFile(path, source, version);
    const known = parsed.get(path) ?? read(path, version, ...rest);
    parsed.set(path, known);
    return known;
  };
  return compiler.createProgram(Object.keys(sources), options, host);
}
const parsed = new Map<string, ts.SourceFile | undefined>();

describe("a notebook cell", () => {
  let program: ts.Program;
  let checker: ts.TypeChecker;
  let exported: ts.Symbol[];

  beforeAll(() => {
    expect(compiler.version).toMatch(/^5\.0\./);
    program = compile({ [cell]: 'import * as meridional from "meridional";\nmeridional;' });
    checker = program.getTypeChecker();
    const statement = program.getSourceFile(cell)!.statements[0] as ts.ImportDeclaration;
    const module = checker.getSymbolAtLocation(statement.moduleSpecifier)!;
    exported = checker
      .getExportsOfModule(module)
      .map((symbol) =>
        symbol.flags & compiler.SymbolFlags.Alias ? checker.getAliasedSymbol(symbol) : symbol,
      );
  });

  it("compiles with every public export in it, and complains about what is planted", () => {
    const names = exported.map(({ name }) => name);
    expect(names).toContain("createRandom");
    const source = exported
      .map((symbol) => {
        const used = symbol.flags & compiler.SymbolFlags.Value ? `\n${symbol.name};` : "";
        return `import { ${symbol.name} } from "meridional";${used}`;
      })
      .join("\n");
    const complaints = compiler
      .getPreEmitDiagnostics(compile({ [cell]: source, ...planted }))
      .filter(({ file }) => !file?.fileName.includes("/node_modules/"))
      .map(({ file, messageText }) => {
        const where = file === undefined ? "" : `${file.fileName.slice(root.length + 1)}: `;
        return where + compiler.flattenDiagnosticMessageText(messageText, " ");
      });
    expect(complaints).toEqual([
      expect.stringMatching(/^notebooks\/unknown-name\.ts: .*no exported member 'nothing'/),
      expect.stringMatching(/^notebooks\/wrong-argument\.ts: .*not assignable to/),
    ]);
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
    const planted = compile({
      [cell]: "const planted = { inner: [{ deep: JSON.parse('1') }] };\nplanted;",
    });
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
