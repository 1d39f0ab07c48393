import * as simpleStatistics from "simple-statistics";
import * as meridional from "../../../face.js";
import { nearest } from "../../../results/index.js";
import { assert, strictAssert } from "./assertions.js";
import { fileModules } from "./fileModules.js";

type Module = Readonly<Record<string, unknown>>;

const modules: { readonly [name: string]: Module } = {
  meridional,
  "simple-statistics": simpleStatistics,
  "node:assert": { ...assert, default: assert },
  "node:assert/strict": { ...strictAssert, default: strictAssert },
  ...fileModules,
};

/** What a cell may import, by its name with or without "node:"; any other is refused by name. */
export function moduleNamed(name: string): Module {
  const known = Object.hasOwn(modules, name) ? name : `node:${name}`;
  if (Object.hasOwn(modules, known)) return modules[known];
  throw new Error(
    `a page has no module ${JSON.stringify(name)}; it has ${Object.keys(modules).join(", ")}; run the notebook in Jupyter for others`,
  );
}

/** What one name of a module is; types are gone, and are found missing only where they are used as values. */
export function exportNamed(from: string, name: string): unknown {
  const module = moduleNamed(from);
  if (name === "*") return module;
  if (name in module) return module[name];
  const [near] = nearest(name, Object.keys(module));
  throw new Error(
    `${from} has nothing called ${name} in a page${near === undefined ? "" : `; did you mean ${near}?`}`,
  );
}
