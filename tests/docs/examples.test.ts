import { describe, expect, it } from "vitest";
import { citationsOf } from "../../src/citations/index.js";
import * as face from "../../src/face.js";
import { hasRule, viewOf } from "../../src/notebook/views/index.js";
import { elsewhere, faultsOf, someOf, variantsOf } from "../boundary/degenerate.js";
import { all, carryOut, meridional } from "./exampleRuns.js";
import { nElsewhere, noResult, notPlain, notStated, withoutKind } from "./plainResults.js";
import { expectShown, shownValue } from "./shownValue.js";

/** Results are plain data with a kind; an interval says its n, level and method. */
function expectPlainResult(name: string, result: unknown): void {
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

/** The first call of each function in its own example. */
const firstCalls = new Map<string, readonly unknown[]>();

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

describe("examples in the docstrings of the public face", () => {
  it("are there for every name", () => {
    const shown = new Set(all.map(({ name }) => name));
    expect(Object.keys(meridional).filter((name) => !shown.has(name))).toEqual([]);
  });

  it.each(all)("$file: $expression // => $shown", async (example) => {
    const { value, calls } = await carryOut(example);
    expectShown(value, shownValue(example.shown));
    for (const { name, parameters, result } of calls) {
      expectPlainResult(name, await result);
      if (name === example.name && !firstCalls.has(name)) firstCalls.set(name, parameters);
    }
  });
});

// Each public function with two things in its example made degenerate; all of them in
// tests/boundary/degenerate.long.ts.
describe("what is degenerate", () => {
  it("is refused, or gives a result of numbers", async () => {
    const faults: string[] = [];
    let reached = 0;
    for (const [name, call] of Object.entries(face)) {
      const parameters = firstCalls.get(name);
      if (parameters === undefined || slow.has(name)) continue;
      const some = someOf(variantsOf(name, parameters), 2, name);
      faults.push(...(await elsewhere(() => faultsOf(name, call as never, some))));
      reached++;
    }
    expect(faults).toEqual([]);
    expect(reached).toBeGreaterThan(190);
  });
});

/** They take a second or more each. */
const slow = new Set([
  "prepareFiles",
  "programmeColumns",
  "reproduceStudy",
  "runStudy",
  "writeReport",
]);

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
