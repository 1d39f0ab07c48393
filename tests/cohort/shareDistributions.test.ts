import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { shareDistributions } from "../../src/cohort/index.js";

const values = fc.array(fc.double({ min: -9, max: 9, noNaN: true }), { maxLength: 300 });

describe("shareDistributions", () => {
  it("holds at least 11 in a bin, and each value in the bin of its edges", () => {
    fc.assert(
      fc.property(values, (list) => {
        const [{ n, bins, outsideBins }] = shareDistributions({ all: list }).groups;
        expect(n).toBe(list.length);
        for (const [at, { from, to, count, percentPerUnit }] of bins.entries()) {
          expect(count).toBeGreaterThanOrEqual(11);
          // by definition: the values between the edges
          expect(list.filter((value) => value >= from && value < to)).toHaveLength(count);
          expect(percentPerUnit * (to - from)).toBeCloseTo((100 * count) / n, 9);
          if (at > 0) expect(bins[at - 1].to).toBe(from);
        }
        const outside = n - bins.reduce((sum, { count }) => sum + count, 0);
        expect(outsideBins).toBe(outside);
        expect(outside > 0 && outside < 11 && bins.length > 0).toBe(false);
      }),
    );
  });

  it("covers a hundred per cent where every bin may be shown, empty ones among them", () => {
    const [{ bins }] = shareDistributions({ all: [0, 0.1, 3, 3, 3] }, { smallestBin: 1 }).groups;
    expect(bins.map(({ from, to, count }) => [from, to, count])).toEqual([
      [-0.25, 0.25, 2],
      [0.25, 2.75, 0],
      [2.75, 3.25, 3],
    ]);
    expect(bins.reduce((sum, bin) => sum + bin.percentPerUnit * (bin.to - bin.from), 0)).toBe(100);
  });

  it("puts a value at an edge into the bin that begins there", () => {
    const grid = fc.array(fc.integer({ min: -24, max: 24 }), { maxLength: 400 });
    fc.assert(
      fc.property(grid, fc.constantFrom(1, 11), (eighths, smallestBin) => {
        // multiples of 0.125 in bins of 0.25 around multiples of it: every second value is an edge
        const list = eighths.map((value) => value / 8);
        const [{ bins }] = shareDistributions({ all: list }, { bin: 0.25, smallestBin }).groups;
        for (const { from, to, count } of bins) {
          expect(list.filter((value) => value >= from && value < to)).toHaveLength(count);
          for (const edge of [from, to]) expect(Number.isInteger(edge / 0.25 + 0.5)).toBe(true);
        }
      }),
    );
  });

  it("joins the few with the next, and leaves out ends that had to be joined", () => {
    const times = (n: number, value: number) => Array(n).fill(value);
    const edges = (list: readonly number[]) =>
      shareDistributions({ all: list }).groups[0].bins.map(({ from, to, count }) => [
        from,
        to,
        count,
      ]);
    // by hand: 3 at -0.5 join the 12 at 0
    const full = [...times(11, -1), ...times(3, -0.5), ...times(12, 0), ...times(20, 0.5)];
    expect(edges([...full, ...times(11, 1)])).toEqual([
      [-1.25, -0.75, 11],
      [-0.75, 0.25, 15],
      [0.25, 0.75, 20],
      [0.75, 1.25, 11],
    ]);
    // 10 at the end join the 20, so that this bin is left out, and then the joined one before it
    expect(edges([...full, ...times(10, 1)])).toEqual([[-1.25, -0.75, 11]]);
  });

  it("gives quartiles, mean, SD and the standardised difference", () => {
    // means 2 and 4, variances 1 and 4: (2 - 4) / sqrt(2.5), by hand
    const result = shareDistributions({ examined: [1, 2, 3], others: [2, 4, 6] });
    expect(result.standardisedDifference).toBeCloseTo(-2 / Math.sqrt(2.5), 12);
    expect(result.groups[1]).toMatchObject({ median: 4, lowerQuartile: 3, mean: 4 });
    expect(result.groups[1].sd).toBeCloseTo(2, 12);
    const [one, none] = shareDistributions({ one: [5], none: [] }).groups;
    expect(one).toMatchObject({ median: 5, sd: null, bins: [], outsideBins: 1 });
    expect(none).toMatchObject({ n: 0, median: null, mean: null });
  });

  it("refuses what is no number, no width and no count", () => {
    expect(() => shareDistributions({ all: [Number.NaN] })).toThrow(
      "finite numbers in all, got NaN in row 0",
    );
    expect(() => shareDistributions({ all: [1] }, { bin: 0 })).toThrow("width of bins, got 0");
    expect(() => shareDistributions({ all: [1] }, { smallestBin: 0 })).toThrow("got 0");
  });
});
