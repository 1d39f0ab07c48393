import { expect } from "vitest";
import { citationsOf } from "../../src/citations/index.js";
import { hasRule, viewOf } from "../../src/notebook/views/index.js";
import { carryOut, type Example, type Watched } from "./exampleRuns.js";
import { nElsewhere, noResult, notPlain, notStated, withoutKind } from "./plainResults.js";
import { expectShown, shownValue } from "./shownValue.js";

/** An example gives what it shows, and every call in it a plain result. Returns the calls. */
export async function expectExample(example: Example): Promise<readonly Watched[]> {
  const { value, calls } = await carryOut(example);
  expectShown(value, shownValue(example.shown));
  for (const { name, result } of calls) expectPlainResult(name, await result);
  return calls;
}

/** Results are plain data with a kind; an interval says its n, level and method. */
export function expectPlainResult(name: string, result: unknown): void {
  if (typeof result !== "object" || result === null || noResult.has(name)) return;
  expect(notPlain(result), name).toEqual([]);
  const hasKind = Array.isArray(result) || "kind" in result;
  expect(hasKind, `${name} has a kind, or is listed`).toBe(!withoutKind.has(name));
  const wanted = nElsewhere.has(name) ? ["level", "method"] : ["n", "level", "method"];
  expect(notStated(result, wanted), name).toEqual([]);
  expectView(name, result);
  const unknown = citationsOf(result).withoutSource.filter(({ reason }) => /recorded/.test(reason));
  expect(unknown, `sources of the methods that ${name} names`).toEqual([]);
}

/** Every kind of result has a rule how it is seen, and its view can be made. */
function expectView(name: string, result: object): void {
  if (!("kind" in result) || shownOtherwise.has(String(result.kind))) return;
  expect(hasRule(String(result.kind)), `a view of ${result.kind} (${name})`).toBe(true);
  const { headline, tables } = viewOf(result, null, false);
  expect(`${headline}${JSON.stringify(tables)}`, name).not.toMatch(/NaN|undefined,|\[object/);
  expect(headline === "" && tables.length === 0, name).toBe(false);
}

/** What `show` writes without a view: pictures, tables, single estimates. */
const shownOtherwise = new Set(["figure", "table", "estimate", "one-sided", "undefined"]);
