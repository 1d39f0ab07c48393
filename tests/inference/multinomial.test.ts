import { describe, expect, it } from "vitest";
import { chiSquareCdf } from "../../src/inference/distributions.js";
import { createRandom } from "../../src/inference/random.js";
import { drawBinomial } from "../../src/inference/resampling/binomial.js";
import { drawMultinomial, multinomialSampler } from "../../src/inference/resampling/multinomial.js";
import { poissonCounts } from "../../src/inference/resampling/poissonCounts.js";

/** Logarithm of n!, by summing. */
function logFactorials(n: number): number[] {
  const list = [0];
  for (let k = 1; k <= n; k++) list.push(list[k - 1] + Math.log(k));
  return list;
}

/** Probabilities of 0 to n successes. */
function binomial(n: number, p: number): number[] {
  const f = logFactorials(n);
  return Array.from({ length: n + 1 }, (_, k) =>
    Math.exp(f[n] - f[k] - f[n - k] + k * Math.log(p) + (n - k) * Math.log1p(-p)),
  );
}

/** P of Pearson's chi-square of observed counts against exact probabilities, cells below 10 merged. */
function agreement(observed: readonly number[], probabilities: readonly number[]): number {
  const total = observed.reduce((sum, count) => sum + count, 0);
  let chiSquare = 0;
  let cells = 0;
  let seen = 0;
  let expected = 0;
  let left = total;
  observed.forEach((count, at) => {
    seen += count;
    expected += probabilities[at] * total;
    left -= probabilities[at] * total;
    if ((expected < 10 || left < 10) && at < observed.length - 1) return;
    chiSquare += (seen - expected) ** 2 / expected;
    cells++;
    seen = 0;
    expected = 0;
  });
  return 1 - chiSquareCdf(chiSquare, cells - 1);
}

// exact probabilities by definition; seeds are fixed, so each test passes or fails for good
describe("drawBinomial", () => {
  it.each([
    [7, 0.3],
    [60, 0.5],
    [2000, 0.02],
    [100_000, 0.4],
  ])("n %i, p %f has the exact distribution", (n, p) => {
    const random = createRandom(11, n);
    const observed = new Array<number>(n + 1).fill(0);
    for (let draw = 0; draw < 10_000; draw++) observed[drawBinomial(random, n, p)]++;
    expect(agreement(observed, binomial(n, p))).toBeGreaterThan(0.001);
  });
});

describe("poissonCounts", () => {
  it.each([0.3, 2, 16.5, 900])("mean %f has the exact distribution", (mean) => {
    const f = logFactorials(2000);
    const probabilities = f.map((log, k) => Math.exp(k * Math.log(mean) - mean - log));
    // cells of other means before and behind it
    const draw = poissonCounts([5, mean, 0.01]);
    const random = createRandom(11, Math.round(mean));
    const observed = probabilities.map(() => 0);
    const out = new Int32Array(3);
    for (let replicate = 0; replicate < 20_000; replicate++) {
      expect(draw(random, out)).toBe(out[0] + out[1] + out[2]);
      observed[out[1]]++;
    }
    expect(agreement(observed, probabilities)).toBeGreaterThan(0.001);
  });
});

describe.each([
  ["prepared", (counts: number[]) => multinomialSampler(counts)],
  [
    "unprepared",
    (counts: number[]) => (random: ReturnType<typeof createRandom>, out: Int32Array) =>
      drawMultinomial(counts, random, out),
  ],
] as const)("multinomial, %s", (_name, prepare) => {
  it("three rows: every outcome at its exact probability", () => {
    const counts = [1, 0, 2];
    const draw = prepare(counts);
    const random = createRandom(5);
    const out = new Int32Array(3);
    const observed = [0, 0, 0, 0];
    for (let replicate = 0; replicate < 10_000; replicate++) {
      draw(random, out);
      expect(out[0] + out[2]).toBe(3);
      expect(out[1]).toBe(0);
      observed[out[0]]++;
    }
    expect(agreement(observed, binomial(3, 1 / 3))).toBeGreaterThan(0.001);
  });

  // marginals and sums of cells are binomial; few large cells, many cells of one row, and a mixture
  it.each([
    ["few cells", [400, 30, 0, 5, 1, 1, 900, 63]],
    ["cells of one row", new Array<number>(203).fill(1)],
    ["mixture", [...new Array<number>(150).fill(1), 2, 3, 40, 400, 7]],
  ])("%s: marginals, a sum and a correlation are exact", (_, counts) => {
    const n = counts.reduce((sum, count) => sum + count, 0);
    const draw = prepare(counts);
    const random = createRandom(17);
    const out = new Int32Array(counts.length);
    const replicates = 10_000;
    const watched = [0, counts.length - 1];
    const seen = [...watched, -1].map(() => new Array<number>(n + 1).fill(0));
    const half = counts.length >> 1;
    const halfCount = counts.slice(0, half).reduce((sum, count) => sum + count, 0);
    // cells far apart, and neighbours, which are drawn together where they have one row each
    const pairs = [
      [0, counts.length - 1],
      [0, 1],
    ];
    const products = [0, 0];
    for (let replicate = 0; replicate < replicates; replicate++) {
      draw(random, out);
      expect(out.reduce((sum, count) => sum + count, 0)).toBe(n);
      watched.forEach((cell, at) => {
        seen[at][out[cell]]++;
      });
      seen[2][out.subarray(0, half).reduce((sum, count) => sum + count, 0)]++;
      pairs.forEach(([one, other], at) => {
        products[at] += (out[one] - counts[one]) * (out[other] - counts[other]);
      });
    }
    watched.forEach((cell, at) => {
      expect(agreement(seen[at], binomial(n, counts[cell] / n))).toBeGreaterThan(0.001);
    });
    expect(agreement(seen[2], binomial(n, halfCount / n))).toBeGreaterThan(0.001);
    // covariance of two cells: -n p q; its Monte Carlo error from the two variances
    pairs.forEach(([one, other], at) => {
      const [a, b] = [counts[one] / n, counts[other] / n];
      const error = (n * Math.sqrt(a * (1 - a) * b * (1 - b) * 1.5)) / Math.sqrt(replicates);
      expect(Math.abs(products[at] / replicates + n * a * b)).toBeLessThan(4 * error);
    });
  });

  it("repeats itself by seed and stream", () => {
    const draw = prepare([500, 20, 1, 1, 1, 1, 1]);
    const once = (stream: number) => {
      const out = new Int32Array(7);
      draw(createRandom(3, stream), out);
      return [...out];
    };
    expect(once(1)).toEqual(once(1));
    expect([once(2), once(3), once(4)]).not.toEqual([once(1), once(1), once(1)]);
  });
});
