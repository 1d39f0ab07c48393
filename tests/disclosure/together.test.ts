import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { safeRanges, smallCounts, sumEnds, sumRanges } from "../../src/disclosure/index.js";
import { coarseStudy } from "../../src/study/coarse/coarseStudy.js";
import { studyReport } from "../../src/study/index.js";
import { recordedResult } from "../builders/recordedResult.js";

describe("sumRanges", () => {
  it("lets each part be 0, and 10, in every range, and leaves no sum out", () => {
    for (let parts = 1; parts <= 40; parts++) {
      const ranges = sumRanges(sumEnds(parts));
      let next = 0;
      for (const { low, high } of ranges) {
        expect(low).toBe(next);
        // one part at 0, the others at most 10 each; one at 10, the others at least 0
        expect(low).toBeLessThanOrEqual(10 * (parts - 1));
        expect(high).toBeGreaterThanOrEqual(10);
        next = high + 1;
      }
      expect(next).toBe(10 * parts + 1);
    }
    expect(sumRanges(sumEnds(2))).toHaveLength(1);
    expect(sumRanges(sumEnds(5)).map(({ low, high }) => [low, high])).toEqual([
      [0, 10],
      [11, 17],
      [18, 22],
      [23, 27],
      [28, 32],
      [33, 37],
      [38, 50],
    ]);
  });

  it("lets each part of two sums be 0, and 10, whatever both read", () => {
    // by listing: every way in which the parts of both can be 0 to 10
    const shape = fc.record({
      own: fc.integer({ min: 3, max: 6 }),
      more: fc.integer({ min: 1, max: 4 }),
    });
    fc.assert(
      fc.property(shape, ({ own, more }) => {
        for (const beside of sumRanges(sumEnds(own))) {
          for (const { low, high } of sumRanges(sumEnds(more, smallCounts, beside, own))) {
            for (const end of [0, 10]) {
              const fits = (
                first: readonly [number, number],
                second: readonly [number, number],
              ) => {
                for (
                  let one = Math.max(first[0], beside.low);
                  one <= Math.min(first[1], beside.high);
                  one++
                ) {
                  if (one + second[0] <= high && one + second[1] >= low) return true;
                }
                return false;
              };
              expect(fits([end, end + 10 * (own - 1)], [0, 10 * more])).toBe(true);
              expect(fits([0, 10 * own], [end, end + 10 * (more - 1)])).toBe(true);
            }
          }
        }
      }),
    );
  });
});

describe("safeRanges", () => {
  it("gives ranges that hold every sum, in each of which small counts keep their range: by listing all tables", () => {
    const range = fc.tuple(fc.nat(6), fc.nat(5)).map(([low, more]) => ({ low, high: low + more }));
    const seen = { merged: 0, split: 0, ended: 0 };
    fc.assert(
      fc.property(range, range, fc.integer({ min: 2, max: 3 }), (other, total, top) => {
        const small = ["a", "b", "c", "d"];
        const known = [
          ...small.map((name) => ({ name, low: 0, high: top })),
          { name: "other", ...other },
          { name: "total", ...total },
        ];
        const parts = (names: readonly string[]) => names.map((name) => ({ name }));
        const equations = [
          { whole: "sum", parts: parts(small) },
          { whole: "total", parts: parts(["a", "b", "other"]) },
        ];
        const tables: number[][] = [];
        for (let a = 0; a <= top; a++)
          for (let b = 0; b <= top; b++)
            for (let c = 0; c <= top; c++)
              for (let d = 0; d <= top; d++) {
                const [least, most] = [a + b + other.low, a + b + other.high];
                if (least <= total.high && most >= total.low) tables.push([a, b, c, d]);
              }
        const isSafe = (list: readonly number[][]) =>
          small.every((_, at) => [0, top].every((end) => list.some((table) => table[at] === end)));
        if (!isSafe(tables)) return;
        const sumOf = (table: readonly number[]) => table.reduce((all, one) => all + one, 0);
        const wanted = sumRanges(sumEnds(4, { fewerThan: top + 1, roundTo: 2 }), {
          fewerThan: top + 1,
          roundTo: 2,
        });
        const asked = { small, implied: [], fewerThan: top + 1 };
        const found = safeRanges(known, equations, asked, { name: "sum", ranges: wanted });
        const within = ({ low, high }: { readonly low: number; readonly high: number }) =>
          tables.filter((table) => low <= sumOf(table) && sumOf(table) <= high);
        for (const one of found) expect(isSafe(within(one)), JSON.stringify(found)).toBe(true);
        expect(found.flatMap(within)).toHaveLength(tables.length);
        if (found.length < wanted.length) seen.merged++;
        if (found.length > 1) seen.split++;
        if (found.at(-1)!.high < 4 * top) seen.ended++;
      }),
      { numRuns: 400, seed: 5 },
    );
    expect(Math.min(...Object.values(seen))).toBeGreaterThan(5);
  });
});

describe("a study whose small counts are counted together", () => {
  it("shows one total wherever it stands", () => {
    const children = [60, 70, 3, 2, 80, 300, 0, 4, 0, 2, 0, 1];
    const text = JSON.stringify(studyReport(recordedResult(children)));
    const { flow, together } = coarseStudy(recordedResult(children));
    // 3, 2, 0, 4 and 0 are 9; with 2 and 1 they are 12, which lies between 0 + 0 and 10 + 20
    expect(together.rows).toMatchObject({ counts: 5, sum: { low: 0, high: 10 } });
    expect(together.all).toMatchObject({ counts: 7, sum: { low: 11, high: 17 } });
    // 58 to 62, 68 to 72, 78 to 82 and 298 to 302 with them
    expect(flow!.compared.words).toBe("502 to 528");
    expect(flow!.all.words).toBe("513 to 535");
    expect(text.split(flow!.compared.words).length).toBeGreaterThan(3);
    expect(text).not.toContain("502 to 568");
  });
});
