import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  coarsen,
  coarseRate,
  rateWords,
  totalOf,
  whatFollows,
} from "../../src/disclosure/index.js";

const count = fc.oneof(fc.nat(10), fc.nat(40), fc.nat(3000));

describe("coarsen", () => {
  it("reads as the protocol of the project says, for every count up to 200", () => {
    for (let n = 0; n <= 200; n++) {
      // by the sentence: 0 to 10 "fewer than 11", 11 to 17 reads 15, any other its nearest multiple of 5
      const nearest = [5, 0].map((add) => n - (n % 5) + add);
      const reads =
        Math.abs(nearest[0]! - n) < Math.abs(nearest[1]! - n) ? nearest[0]! : nearest[1]!;
      const words = n < 11 ? "fewer than 11" : n < 18 ? "15" : String(reads);
      expect(coarsen(n).words).toBe(words);
    }
  });

  it("has the range of exactly those counts that read alike", () => {
    const rules = fc.record({
      fewerThan: fc.integer({ min: 2, max: 30 }),
      roundTo: fc.integer({ min: 2, max: 20 }),
    });
    fc.assert(
      fc.property(fc.nat(400), rules, (n, rule) => {
        const { low, high, words } = coarsen(n, rule);
        const alike = Array.from({ length: 500 }, (_, other) => other).filter(
          (other) => coarsen(other, rule).words === words,
        );
        expect([low, high]).toEqual([alike[0], alike.at(-1)]);
      }),
    );
  });

  it("refuses what is no count", () => {
    expect(() => coarsen(-1)).toThrow("whole count of at least 0, got -1");
    expect(() => coarsen(2.5)).toThrow("got 2.5");
  });
});

describe("totalOf", () => {
  it("holds the exact sum, and is never rounded apart", () => {
    fc.assert(
      fc.property(fc.array(count, { minLength: 2, maxLength: 6 }), (counts) => {
        const parts = counts.map((n) => coarsen(n));
        const { low, high } = totalOf(parts);
        const sum = counts.reduce((all, n) => all + n, 0);
        expect(low <= sum && sum <= high).toBe(true);
        expect(high - low).toBe(parts.reduce((all, part) => all + part.high - part.low, 0));
      }),
    );
  });
});

describe("coarseRate", () => {
  const share = ([part, rest]: readonly number[]) => part! / (part! + rest!);
  it("finds the least and the greatest share of every pair of counts in the ranges", () => {
    fc.assert(
      fc.property(fc.nat(40), fc.nat(40), (part, rest) => {
        const cells = [coarsen(part), coarsen(rest)];
        const found = coarseRate(cells, share, () => ({}))!;
        const every: number[] = [];
        for (let one = cells[0]!.low; one <= cells[0]!.high; one++) {
          for (let other = cells[1]!.low; other <= cells[1]!.high; other++) {
            if (one + other > 0) every.push(share([one, other]));
          }
        }
        expect([found.from, found.to]).toEqual([Math.min(...every), Math.max(...every)]);
      }),
      { numRuns: 60 },
    );
  });

  it("prints whole percent, rounded outwards", () => {
    const found = coarseRate([coarsen(117), coarsen(2)], share, () => ({ low: 0.8, high: 0.999 }));
    // 113 to 117 of at most 10 more: 113/123 = .9187 to 1
    expect(rateWords(found)).toBe("91 to 100 % (80 to 100)");
    expect(rateWords(null)).toBe("not estimated");
  });
});

describe("whatFollows", () => {
  it("finds by propagation what every whole table in the ranges allows, on trees", () => {
    // whole = a + b + c and b = d + e, each part with a range: every solution is listed
    const range = fc.tuple(fc.nat(6), fc.nat(4)).map(([low, more]) => ({ low, high: low + more }));
    fc.assert(
      fc.property(fc.tuple(range, range, range, range, range), ([whole, a, c, d, e]) => {
        const known = Object.entries({ whole, a, c, d, e }).map(([name, one]) => ({
          name,
          ...one,
        }));
        const equations = [
          { whole: "whole", parts: [{ name: "a" }, { name: "b" }, { name: "c" }] },
          { whole: "b", parts: [{ name: "d" }, { name: "e" }] },
        ];
        const seen = new Map<string, [number, number]>();
        const see = (name: string, n: number) => {
          const [low, high] = seen.get(name) ?? [n, n];
          seen.set(name, [Math.min(low, n), Math.max(high, n)]);
        };
        const within = (n: number, one: typeof whole) => n >= one.low && n <= one.high;
        for (let A = a.low; A <= a.high; A++)
          for (let C = c.low; C <= c.high; C++)
            for (let D = d.low; D <= d.high; D++)
              for (let E = e.low; E <= e.high; E++) {
                if (!within(A + C + D + E, whole)) continue;
                const all = { whole: A + C + D + E, a: A, b: D + E, c: C, d: D, e: E };
                for (const [name, n] of Object.entries(all)) see(name, n);
              }
        if (seen.size === 0) {
          expect(() => whatFollows(known, equations)).toThrow("ranges that fit");
          return;
        }
        const found = whatFollows(known, equations);
        for (const [name, [low, high]] of seen)
          expect(found.get(name)).toEqual({ name, low, high });
      }),
    );
  });

  it("refuses a circle with the name of a count on it", () => {
    const circle = [
      { whole: "a", parts: [{ name: "b" }, { name: "c" }] },
      { whole: "d", parts: [{ name: "b" }, { name: "c" }] },
    ];
    expect(() => whatFollows([], circle)).toThrow("got a circle through c");
  });

  it("keeps the children with one eye from what children and eyes say", () => {
    // 2 x children - eyes
    const parts = [
      { name: "children", times: 2 },
      { name: "eyes", times: -1 },
    ];
    const known = [
      { name: "children", low: 98, high: 102 },
      { name: "eyes", low: 188, high: 192 },
    ];
    expect(whatFollows(known, [{ whole: "one eye", parts }]).get("one eye")).toEqual({
      name: "one eye",
      low: 4,
      high: 16,
    });
  });
});
