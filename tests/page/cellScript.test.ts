import { runInThisContext } from "node:vm";
import { afterEach, describe, expect, it } from "vitest";
import { assert as pageAssert } from "../../src/page/worker/cells/assertions.js";
import { cellScript } from "../../src/page/worker/cells/cellScript.js";

type Access = readonly [get: () => unknown, set: (value: unknown) => void];
type Ended = { shown: unknown; names: Record<string, Access> };

/** Runs a cell's script as a worker does, names of its imports aside. */
async function run(
  source: string,
  names: object = {},
  importHere = async () => ({}),
): Promise<Ended> {
  const world = globalThis as { handOver$?: unknown };
  let body: ((...given: unknown[]) => () => Promise<Ended>) | undefined;
  world.handOver$ = (given: typeof body) => {
    body = given;
  };
  runInThisContext(cellScript(source, "cell-1", Object.keys(names).length > 0).text);
  return body!(names, importHere)();
}

describe("a cell as a script", () => {
  afterEach(() => {
    delete (globalThis as { handOver$?: unknown }).handOver$;
  });

  it.each([
    ["1 + 1", 2],
    ["1 + 1;", 2],
    ["(2, 3);\n", 3],
    ["const a: number = 4;\na", 4],
    ["enum Eye { Right = 1, Left }\nEye.Left", 2],
    ["function first<T>(list: readonly T[]): T { return list[0]!; }\nfirst([5])", 5],
    ["const limit = { at: 3 } satisfies { at: number };\nlimit.at as unknown", 3],
    [
      "interface A { a: number }\ntype B = A & { b: string };\nabstract class C<T> { constructor(readonly x: T) {} }\nclass D extends C<number> {}\nnew D(7).x",
      7,
    ],
    [
      "let sum = 0;\nfor await (const one of (async function* () { yield 1; yield 2; })()) sum += one;\nsum",
      3,
    ],
    [
      "const { a, b: [c, ...d], ...e } = { a: 1, b: [2, 3], f: 4 };\n[a, c, d, e]",
      [1, 2, [3], { f: 4 }],
    ],
    ["await Promise.resolve(8)", 8],
    ['const name = "x"; const location = 1;\nname + location', "x1"],
    // biome-ignore lint/suspicious/noTemplateCurlyInString: a cell that holds a template
    ["const words = `a\n  ${1}\nb`;\nwords.length", 7],
    [
      "import type { Estimate } from 'meridional';\nimport { type Cohort, show } from 'meridional';\n9 // the last",
      9,
    ],
    ["export const kept = 1;\nkept", 1],
    ["({ a: 1 }).a", 1],
    ["let x = 1", undefined],
  ])("runs %j", async (source, shown) => {
    expect((await run(source)).shown).toEqual(shown);
  });

  it("hands over what is declared at top level, to be read and set, a constant not", async () => {
    const { names } = await run(
      "let a = 1; const { b, c: [d] } = { b: 2, c: [3] }; function e() { var inner = 1; return inner; } class F {} enum G { H }\nif (a) { const within = 1; }",
    );
    expect(Object.keys(names).sort()).toEqual(["F", "G", "a", "b", "d", "e"]);
    names.a[1](10);
    expect(names.a[0]()).toBe(10);
    expect(() => names.b[1](1)).toThrow(TypeError);
  });

  it("takes imports out, and tells them by the names of the cell", async () => {
    const { imports, text } = cellScript(
      'import all, { a, b as c, type D } from "one";\nimport * as two from "two";\nimport "three";\na',
      "cell-1",
      false,
    );
    expect(imports).toEqual([
      {
        from: "one",
        names: [
          ["all", "default"],
          ["a", "a"],
          ["c", "b"],
        ],
      },
      { from: "two", names: [["two", "*"]] },
      { from: "three", names: [] },
    ]);
    expect(text).not.toContain("from");
    const { shown } = await run('(await import("x")).y', {}, async () => ({ y: 5 }));
    expect(shown).toBe(5);
  });

  it("puts names of earlier cells before those that the browser has", async () => {
    expect((await run("performance", { performance: 3 })).shown).toBe(3);
  });

  it.each([
    ["let a = ;", 1],
    ["1;\n2;\nlet const = 3", 3],
    ["const a = 1;\nconst a = 2", 2],
    ["const a: number = 1;\n\nreturn a", 3],
    ["1\nexport default 2", 2],
  ])("names the line of what cannot be read in %j", (source, line) => {
    expect(() => cellScript(source, "cell-1", false)).toThrow(
      expect.objectContaining({ name: "SyntaxError", line }),
    );
  });
});

// The functions of Node.js 20 itself are the other side.
describe("assertions in a page", async () => {
  const { default: assert } = await import("node:assert");
  const holds = (work: () => unknown) => {
    try {
      work();
      return true;
    } catch (error) {
      expect((error as Error).name).toBe("AssertionError");
      return false;
    }
  };
  const values: readonly unknown[] = [
    ...[
      0,
      -0,
      1,
      "1",
      Number.NaN,
      null,
      undefined,
      true,
      "",
      [],
      [1],
      ["1"],
      {},
      { a: 1 },
      { a: "1" },
    ],
    ...[
      { a: 1, b: undefined },
      new Map([[1, { a: 2 }]]),
      new Map([[1, { a: 3 }]]),
      new Set([1, 2]),
    ],
    ...[new Date(0), new Date(1), /a/, /b/, new Float64Array([1]), new Float32Array([1])],
  ];
  it.each([
    "equal",
    "notEqual",
    "strictEqual",
    "deepEqual",
    "deepStrictEqual",
    "notDeepStrictEqual",
  ] as const)("judge by %s as Node.js does", (method) => {
    for (const a of values) {
      for (const b of values) {
        expect([a, b, holds(() => pageAssert[method](a, b))]).toEqual([
          a,
          b,
          holds(() => assert[method](a, b)),
        ]);
      }
    }
  });

  it("throw, reject and match as Node.js does", async () => {
    const work = () => {
      throw new RangeError("too far");
    };
    for (const wanted of [
      /far/,
      RangeError,
      { message: "too far" },
      (error: unknown) => error instanceof RangeError,
    ]) {
      pageAssert.throws(work, wanted);
      assert.throws(work, wanted);
      await pageAssert.rejects(async () => work(), wanted);
    }
    expect(() => pageAssert.throws(() => 1)).toThrow("Missing expected exception");
    expect(() => pageAssert.throws(work, /near/)).toThrow("does not match");
    expect(() => pageAssert.throws(work, TypeError)).toThrow(RangeError);
    expect(() => pageAssert.match("a", /b/)).toThrow("did not match");
    expect(() => pageAssert(0, "own words")).toThrow("own words");
  });
});
