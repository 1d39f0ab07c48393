import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { bootstrap } from "../../src/inference/resampling/bootstrap.js";
import { wrong } from "../builders/wrong.js";

const mean = (rows: readonly number[]) => rows.reduce((sum, x) => sum + x, 0) / rows.length;
const known = (result: ReturnType<typeof bootstrap>) => {
  if (result.kind === "undefined") throw new Error(result.reason);
  return result;
};

describe("bootstrap", () => {
  // Efron 1979: the bootstrap variance of a mean is the plug-in variance / n, exactly
  it("has the standard error that the plug-in distribution gives", () => {
    const rows = [0.3, 1.1, 2.4, 2.4, 3.9, 8.2, 1.7, 0.2];
    const exact = Math.sqrt(mean(rows.map((x) => (x - mean(rows)) ** 2)) / rows.length);
    const found = known(bootstrap(mean, { rows, replicates: 20_000, seed: 4 }));
    // relative error of a standard deviation from B replicates: sqrt((kurtosis - 1) / 4B), < .006
    expect(Math.abs(found.se! / exact - 1)).toBeLessThan(0.024);
    expect(found).toMatchObject({ n: 8, replicates: 20_000, seed: 4, failed: 0 });
  });

  // Efron 1987: the correction (bias + z) / (1 - acceleration (bias + z)) has a pole; past it the
  // upper share came back as 0 and the high limit as the least replicate
  it("bca at a level past the pole keeps its limits in order", () => {
    const rows = Array.from({ length: 60 }, (_, row) => (row === 0 ? 1000 : row / 1000));
    const found = known(
      bootstrap(mean, { rows, replicates: 500, seed: 1, interval: "bca", level: 1 - 1e-12 }),
    );
    expect(found.low).toBeLessThanOrEqual(found.value);
    expect(found.high).toBeGreaterThan(found.value);
  });

  it("equals the distribution of all 27 resamples of three rows", () => {
    const all = [0, 1, 5];
    const seen = new Map<number, number>();
    const replicates = 27_000;
    bootstrap(
      (rows) => {
        const total = rows[0] + rows[1] + rows[2];
        seen.set(total, (seen.get(total) ?? 0) + 1);
        return total;
      },
      { rows: all, replicates, seed: 9 },
    );
    const exact = new Map<number, number>();
    for (const a of all)
      for (const b of all)
        for (const c of all) exact.set(a + b + c, (exact.get(a + b + c) ?? 0) + 1);
    let chiSquare = 0;
    for (const [total, ways] of exact) {
      const expected = (ways / 27) * replicates;
      chiSquare += ((seen.get(total) ?? 0) - expected) ** 2 / expected;
    }
    // 10 distinct totals, 9 df: P(> 27.88) = .001
    expect(exact.size).toBe(10);
    expect(chiSquare).toBeLessThan(27.88);
  });

  it("draws children with all their rows, within strata", () => {
    const rows = [1, 2, 3, 4, 5, 6, 7];
    const subjects = ["a", "a", "b", "b", "c", "d", "d"];
    const strata = [0, 0, 0, 0, 0, 1, 1];
    bootstrap(
      (sample) => {
        const count = (row: number) => sample.filter((x) => x === row).length;
        expect(count(1)).toBe(count(2));
        expect(count(3)).toBe(count(4));
        expect(count(6)).toBe(1);
        expect(count(7)).toBe(1);
        expect(count(1) + count(3) + count(5)).toBe(3);
        return sample.length;
      },
      { rows, subjects, strata, replicates: 200, seed: 2 },
    );
  });

  it("repeats itself, replicate by replicate", () => {
    const draws = (replicates: number) => {
      const found: number[] = [];
      bootstrap((rows) => found[found.push(mean(rows)) - 1], {
        rows: [1, 2, 4, 8, 16],
        replicates,
        seed: 5,
      });
      return found;
    };
    expect(draws(50).slice(0, 20)).toEqual(draws(20).slice(0, 20));
  });

  it("basic limits are the percentile ones reflected at the estimate", () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 0, max: 9, noNaN: true }), { minLength: 3, maxLength: 9 }),
        (rows) => {
          const given = { rows, replicates: 60, seed: 1 };
          const percentile = known(bootstrap(mean, given));
          const basic = known(bootstrap(mean, { ...given, interval: "basic" }));
          expect(basic.low).toBeCloseTo(2 * percentile.value - percentile.high, 10);
          expect(basic.high).toBeCloseTo(2 * percentile.value - percentile.low, 10);
        },
      ),
      { numRuns: 30 },
    );
  });

  // scipy 1.10.1: bootstrap(([.3,1.1,2.4,2.4,3.9,8.2,1.7,.2],), lambda x, axis: np.mean(x**2, axis),
  //   n_resamples=400000, method=..., random_state=1).confidence_interval
  it.each([
    ["percentile", [1.991, 28.92]],
    ["basic", [-4.37, 22.559]],
    ["bca", [3.19, 38.294]],
  ] as const)("scipy agrees on %s", (interval, limits) => {
    const rows = [0.3, 1.1, 2.4, 2.4, 3.9, 8.2, 1.7, 0.2];
    const square = (sample: readonly number[]) => mean(sample.map((x) => x * x));
    const found = known(bootstrap(square, { rows, replicates: 40_000, seed: 3, interval }));
    // Monte Carlo error of a .025 or .975 quantile from 40,000 replicates: below .1 here
    expect(Math.abs(found.low - limits[0])).toBeLessThan(0.35);
    expect(Math.abs(found.high - limits[1])).toBeLessThan(0.35);
  });

  it("says why there is no interval", () => {
    expect(bootstrap(() => Number.NaN, { rows: [1], replicates: 9, seed: 1 }).kind).toBe(
      "undefined",
    );
    // the statistic needs a 2 among the rows: absent from a third of the resamples
    const odds = (rows: readonly number[]) => 1 / rows.filter((x) => x === 2).length;
    expect(bootstrap(odds, { rows: [1, 1, 2], replicates: 500, seed: 1 })).toMatchObject({
      kind: "undefined",
      reason: expect.stringMatching(/not a finite number in \d+ of 500 replicates/),
    });
  });

  it.each([
    [{ rows: [], replicates: 10, seed: 1 }, "at least 1 row"],
    [{ rows: [1], replicates: 1, seed: 1 }, "replicates as a whole number of at least 2, got 1"],
    [{ rows: [1], replicates: 10, seed: 0.5 }, "integer seed"],
    [{ rows: [1, 2], replicates: 10, seed: 1, subjects: ["a"] }, "1 subjects for 2 rows"],
    [{ rows: [1, 2], replicates: 10, seed: 1, subjects: [7, 7], strata: [0, 1] }, "one stratum"],
    [{ rows: [1, 2], replicates: 10, seed: 1, interval: wrong("exact") }, 'got "exact"'],
  ])("%j is an error", (options, message) => {
    expect(() => bootstrap<number>(mean, options)).toThrow(message);
  });
});

// R 4.2.2 with its recommended package boot (tests/reference/inference/boot.R), 99,999 draws; the errors are how
// far limits of 19,999 draws move with R's seed.
describe("a ratio of ten pairs (data city of boot; Davison and Hinkley 1997)", () => {
  const u = [138, 93, 61, 179, 48, 37, 29, 23, 30, 2];
  const x = [143, 104, 69, 260, 75, 63, 50, 48, 111, 50];
  const total = (column: readonly number[], rows: readonly number[]) =>
    rows.reduce((sum, row) => sum + column[row]!, 0);
  it.each([
    ["percentile", [1.252816, 2.108911], [0.00235, 0.01]],
    ["basic", [0.9317141, 1.787809], [0.01, 0.00235]],
    ["bca", [1.244703, 2.073088], [0.00256, 0.01]],
  ] as const)("%s limits are those of boot.ci", (interval, limits, errors) => {
    const found = bootstrap((rows) => total(x, rows) / total(u, rows), {
      rows: u.map((_, row) => row),
      replicates: 20_000,
      seed: 12,
      interval,
    });
    if (found.kind === "undefined") throw new Error(found.reason);
    expect(found.value).toBeCloseTo(1.5203125, 12);
    expect(Math.abs(found.se! - 0.2217936)).toBeLessThan(4 * 0.00201);
    expect(Math.abs(found.low - limits[0])).toBeLessThan(4 * errors[0]);
    expect(Math.abs(found.high - limits[1])).toBeLessThan(4 * errors[1]);
  });
});
