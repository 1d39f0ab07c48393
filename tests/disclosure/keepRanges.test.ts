import fc from "fast-check";
import { expect, it } from "vitest";
import { keepRanges } from "../../src/disclosure/index.js";

// Two tables of the same rows, which a limit ties a second time: sums that form a circle.
const circle = [
  { whole: "rows", parts: [{ name: "a" }, { name: "b" }, { name: "c" }] },
  { whole: "rows", parts: [{ name: "d" }, { name: "e" }] },
  { whole: "between", parts: [{ name: "d" }, { name: "a", times: -2 }] },
];

it("says the same as the list of all whole tables, for sums that form a circle", () => {
  const range = fc.tuple(fc.nat(4), fc.nat(4)).map(([low, more]) => ({ low, high: low + more }));
  const verdicts = new Set<boolean>();
  fc.assert(
    fc.property(fc.tuple(range, range, range, range, range), fc.nat(2), (ranges, fewer) => {
      const [a, b, c, d, e] = ranges;
      const known = ["a", "b", "c", "d", "e"].map((name, at) => ({ name, ...ranges[at]! }));
      const small = ["a", "between"];
      const seen = new Map(small.map((name) => [name, new Set<number>()]));
      for (let A = a.low; A <= a.high; A++)
        for (let B = b.low; B <= b.high; B++)
          for (let C = c.low; C <= c.high; C++)
            for (let D = d.low; D <= d.high; D++) {
              const E = A + B + C - D;
              if (E < e.low || E > e.high || D - 2 * A < 0) continue;
              seen.get("a")!.add(A);
              seen.get("between")!.add(D - 2 * A);
            }
      const fewerThan = fewer + 1;
      const all = [...seen.values()].every((of) => of.has(0) && of.has(fewerThan - 1));
      expect(keepRanges(known, circle, small, fewerThan)).toBe(all);
      verdicts.add(all);
    }),
    { numRuns: 300, seed: 11 },
  );
  expect(verdicts.size).toBe(2);
});

it("knows what no single sum says", () => {
  // two limits that are the same send the same rows: 8 at most with the condition, as 12 to 14 less 4 to 6
  const known = [
    { name: "a", low: 0, high: 10 },
    { name: "b", low: 4, high: 6 },
    { name: "sent", low: 12, high: 14 },
  ];
  const sums = [{ whole: "sent", parts: [{ name: "a" }, { name: "b" }] }];
  expect(keepRanges(known, sums, ["a"], 11)).toBe(false);
  expect(keepRanges(known.slice(0, 2), sums, ["a"], 11)).toBe(true);
});

it("asks of a count that may be small that it has the range of one, and of no other", () => {
  const split = (low: number, high: number) => [
    { name: "all", low, high },
    { name: "part", low: 30, high: 34 },
  ];
  const sums = [{ whole: "all", parts: [{ name: "part" }, { name: "rest" }] }];
  const keeps = (low: number, high: number) => keepRanges(split(low, high), sums, [], 11, ["rest"]);
  expect(keeps(50, 54)).toBe(true); // 16 to 24: not small
  expect(keeps(34, 44)).toBe(true); // 0 to 14
  expect(keeps(38, 42)).toBe(false); // 4 to 12
  expect(keeps(33, 37)).toBe(false); // 0 to 7
});
