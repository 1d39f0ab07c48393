import { readdirSync, readFileSync } from "node:fs";
import { join, relative, resolve } from "node:path";
import * as face from "../../src/face.js";
import * as internal from "../../src/internal.js";

// The examples in the docstrings of the public face, taken out and carried out.

/** What is internal has examples too. */
export const meridional = { ...internal, ...face };

const src = resolve(import.meta.dirname, "../../src");

export interface Example {
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
export function exampleLines(text: string): Omit<Example, "file" | "name">[] {
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

export const all = readdirSync(src, { recursive: true, encoding: "utf8" })
  .filter((name) => name.endsWith(".ts"))
  .sort()
  .flatMap((name) => examples(join(src, name)))
  .filter(({ name }) => name in meridional);

/** Whole reports, and what loads a library of 5 seconds: tests/docs/examples.slow.ts carries them out. */
export const slowExamples = new Set(["compareReleases", "joinFrames", "writeReport"]);

export interface Watched {
  readonly name: string;
  readonly parameters: readonly unknown[];
  readonly result: unknown;
}

/** The names of the package, and how their functions are called in one example. */
function watched() {
  const calls: Watched[] = [];
  const names = Object.entries(meridional).map(([name, one]) => [
    name,
    typeof one === "function" && !/^class\b/.test(String(one))
      ? (...parameters: unknown[]) => {
          const result = (one as (...all: unknown[]) => unknown)(...parameters);
          calls.push({ name, parameters, result });
          return result;
        }
      : one,
  ]);
  return { calls, names: Object.fromEntries(names) };
}

/** Carries out an example: its value, and each call of the package in it. */
export async function carryOut({
  before,
  modules,
  expression,
}: Pick<Example, "before" | "modules" | "expression">) {
  const imported = await Promise.all(modules.map((module) => import(module)));
  const { calls, names } = watched();
  const scope: { [name: string]: unknown } = Object.assign(names, ...imported);
  const { default: _, ...known } = scope;
  const body = `${before}\nreturn (${expression}\n);`;
  const AsyncFunction = (async () => {}).constructor as FunctionConstructor;
  const evaluate = new AsyncFunction(...Object.keys(known), body);
  return { value: (await evaluate(...Object.values(known))) as unknown, calls };
}
