import { readdirSync, readFileSync } from "node:fs";
import { join, relative, resolve } from "node:path";
import { describe, expect, it } from "vitest";
import * as face from "../../src/index.js";
import * as internal from "../../src/internal.js";
import { nElsewhere, noResult, notPlain, notStated, withoutKind } from "./plainResults.js";
import { expectShown, shownValue } from "./shownValue.js";

/** What is internal has examples too. */
const meridional = { ...internal, ...face };

const src = resolve(import.meta.dirname, "../../src");

interface Example {
  readonly file: string;
  /** The export whose docstring holds it. */
  readonly name: string;
  /** Lines before it in the same example, such as a declaration. */
  readonly before: string;
  /** Modules of Node.js that it imports from, such as node:fs. */
  readonly modules: readonly string[];
  readonly expression: string;
  readonly shown: string;
}

function examples(path: string): Example[] {
  const pattern =
    /\/\*\*((?:(?!\*\/)[\s\S])*)\*\/\s*export (?:async )?(?:function\*?|const|class) (\w+)/g;
  return [...readFileSync(path, "utf8").matchAll(pattern)].flatMap(([, doc, name]) =>
    doc!
      .replace(/^\s*\* ?/gm, "")
      .split(/^@/m)
      .filter((tag) => tag.startsWith("example"))
      .flatMap((tag) => exampleLines(tag.replace(/^example/, "")))
      .map((parts) => ({ file: relative(src, path), name: name!, ...parts })),
  );
}

/** Each `expression // => value`; lines without a value belong to the next one that has it. */
function exampleLines(text: string): Omit<Example, "file" | "name">[] {
  const found: Omit<Example, "file" | "name">[] = [];
  const modules = [...text.matchAll(/^import .* from "(node:\w+)"/gm)].map(([, module]) => module!);
  const before: string[] = [];
  let pending: string[] = [];
  for (const line of text.split("\n").filter((line) => !/^\s*(```|import\b|$)/.test(line))) {
    const [code, shown] = line.split(/\s*\/\/ => ?/);
    pending.push(code!);
    if (shown !== undefined) {
      const expression = pending.join("\n").replace(/;\s*$/, "");
      found.push({ before: before.join("\n"), modules, expression, shown: shown.trim() });
      pending = [];
    } else if (/;\s*$/.test(code!)) {
      before.push(...pending);
      pending = [];
    }
  }
  return found;
}

const all = readdirSync(src, { recursive: true, encoding: "utf8" })
  .filter((name) => name.endsWith(".ts"))
  .sort()
  .flatMap((name) => examples(join(src, name)))
  .filter(({ name }) => name in meridional);

/** The names of the package, and what their functions give in one example. */
function watched() {
  const given: [name: string, result: unknown][] = [];
  const names = Object.entries(meridional).map(([name, one]) => [
    name,
    typeof one === "function" && !/^class\b/.test(String(one))
      ? (...parameters: unknown[]) => {
          const result = (one as (...all: unknown[]) => unknown)(...parameters);
          given.push([name, result]);
          return result;
        }
      : one,
  ]);
  return { given, names: Object.fromEntries(names) };
}

/** Results are plain data with a kind; an interval says its n, level and method. */
function expectPlainResult(name: string, result: unknown): void {
  if (typeof result !== "object" || result === null || noResult.has(name)) return;
  expect(notPlain(result), name).toEqual([]);
  const hasKind = Array.isArray(result) || "kind" in result;
  expect(hasKind, `${name} has a kind, or is listed`).toBe(!withoutKind.has(name));
  const wanted = nElsewhere.has(name) ? ["level", "method"] : ["n", "level", "method"];
  expect(notStated(result, wanted), name).toEqual([]);
}

describe("examples in the docstrings of the public face", () => {
  it("are there for every name", () => {
    const shown = new Set(all.map(({ name }) => name));
    expect(Object.keys(meridional).filter((name) => !shown.has(name))).toEqual([]);
  });

  it.each(all)(
    "$file: $expression // => $shown",
    async ({ before, modules, expression, shown }) => {
      const imported = await Promise.all(modules.map((module) => import(module)));
      const { given, names } = watched();
      const scope: { [name: string]: unknown } = Object.assign(names, ...imported);
      const { default: _, ...known } = scope;
      const body = `${before}\nreturn (${expression}\n);`;
      const AsyncFunction = (async () => {}).constructor as FunctionConstructor;
      const evaluate = new AsyncFunction(...Object.keys(known), body);
      expectShown(await evaluate(...Object.values(known)), shownValue(shown));
      for (const [name, result] of given) expectPlainResult(name, await result);
    },
  );
});

describe("looking at a result", () => {
  it("finds what is not plain, wherever it lies", () => {
    const faults = { a: [1, Number.NaN], b: { c: undefined }, d: new Map(), e: 1 / 0, f: () => 1 };
    expect(notPlain(faults)).toEqual([
      ".a[1]: NaN",
      ".b.c: undefined",
      ".d: Map",
      ".e: Infinity",
      ".f: function",
    ]);
    expect(() => expectPlainResult("f", faults)).toThrow();
    expect(() => expectPlainResult("f", { value: 1 })).toThrow("has a kind");
  });

  it("finds an interval that does not say how it was made", () => {
    const bias = { kind: "estimate", value: 1, low: 0, high: 2 };
    const wanted = ["n", "level", "method"];
    expect(notStated({ n: 3, bias: { ...bias, level: 0.95 } }, wanted)).toEqual([
      ".bias: no method",
    ]);
    expect(notStated({ n: 3, level: 0.95, bias: { ...bias, method: "t" } }, wanted)).toEqual([]);
  });
});

describe("comparing with a shown value", () => {
  it("rounds to the digits written", () => {
    expectShown(0.97534, shownValue("0.975"));
    expect(() => expectShown(0.97634, shownValue("0.975"))).toThrow();
    expectShown(1.2e-9, shownValue("1.2e-9"));
    expect(() => expectShown(1.3e-9, shownValue("1.2e-9"))).toThrow();
    expectShown(-0.5, shownValue("-0.50"));
  });

  it("compares objects by all their members, or by some before an ellipsis", () => {
    expectShown({ M: -1, J45: 0.125 }, shownValue("{ M: -1, J45: 0.125 }"));
    expect(() => expectShown({ M: -1, J45: 0 }, shownValue("{ M: -1 }"))).toThrow();
    expectShown({ M: -1, J45: 0 }, shownValue("{ M: -1, ... }"));
    expect(() => expectShown({ M: -2, J45: 0 }, shownValue("{ M: -1, ... }"))).toThrow();
    expectShown(["a 1", null], shownValue('["a 1", null]'));
    expect(() => expectShown(["a 2", null], shownValue('["a 1", null]'))).toThrow();
  });
});
