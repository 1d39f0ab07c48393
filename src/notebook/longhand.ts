import { createRequire } from "node:module";
import type ts from "typescript";

/**
 * A cell's source with `{ a }` written as `{ a: a }`. The kernel looks up what an earlier cell
 * declared wherever a name is used, but misses it in the short form, and the cell fails with "a is
 * not defined"; written out, it works.
 */
export function longhand(source: string): string {
  // the kernel's own compiler, so that what parses here parses there
  const { resolve } = createRequire(import.meta.url);
  const compiler: typeof ts = createRequire(resolve("tslab/package.json"))(
    "@tslab/typescript-for-tslab",
  );
  const file = compiler.createSourceFile("cell.ts", source, compiler.ScriptTarget.ES2022);
  const names: { readonly at: number; readonly name: string }[] = [];
  const visit = (node: ts.Node) => {
    if (compiler.isShorthandPropertyAssignment(node) && !node.objectAssignmentInitializer) {
      names.push({ at: node.name.getStart(file), name: node.name.text });
    }
    compiler.forEachChild(node, visit);
  };
  visit(file);
  return names.reduceRight(
    (text, { at, name }) => `${text.slice(0, at)}${name}: ${text.slice(at)}`,
    source,
  );
}
