import { describe, expect, it } from "vitest";
import * as face from "../../src/face.js";
import { elsewhere, faultsOf, someOf, variantsOf } from "../boundary/degenerate.js";
import { all, meridional, slowExamples } from "./exampleRuns.js";
import { expectExample, expectPlainResult } from "./expectExample.js";
import { notPlain, notStated } from "./plainResults.js";
import { expectShown, shownValue } from "./shownValue.js";

/** The first call of each function in its own example. */
const firstCalls = new Map<string, readonly unknown[]>();

describe("examples in the docstrings of the public face", () => {
  it("are there for every name", () => {
    const shown = new Set(all.map(({ name }) => name));
    expect(Object.keys(meridional).filter((name) => !shown.has(name))).toEqual([]);
  });

  const quick = all.filter(({ name }) => !slowExamples.has(name));
  it.each(quick)("$file: $expression // => $shown", async (example) => {
    for (const { name, parameters } of await expectExample(example)) {
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
