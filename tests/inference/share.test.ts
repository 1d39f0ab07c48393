import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { clusteredAccuracy } from "../../src/accuracy/index.js";
import { withinDifference } from "../../src/agreement/index.js";
import { clusteredShare, proportionInterval, wilsonEstimate } from "../../src/inference/index.js";
import { clustersOf, countByCluster } from "../../src/rows/index.js";
import { known } from "../known.js";

describe("a share of rows that cluster in children", () => {
  // R 4.2, base: p <- sum(s) / sum(r); v <- 8 / 7 * sum((s - p * r)^2) / sum(r)^2;
  // n <- min(sum(r), p * (1 - p) / v); prop.test(p * n, n, correct = FALSE)$conf.int
  it.each([
    [[2, 0, 2, 0, 1, 0, 2, 2], [2, 2, 2, 2, 2, 2, 2, 2], 0.259197108, 0.8253141144],
    [[2, 1, 0, 1, 2, 0, 1, 1], [2, 2, 1, 2, 3, 2, 1, 2], 0.3011698003, 0.7519046463],
  ] as const)("%j of %j as R counts it", (successes, rows, low, high) => {
    const share = known(clusteredShare({ successes, rows }, 0.95));
    expect(share.low).toBeCloseTo(low, 8);
    expect(share.high).toBeCloseTo(high, 8);
    expect(share.method).toBe("wilson-clustered");
  });

  it("is Wilson's own where no child has two rows", () => {
    fc.assert(
      fc.property(fc.array(fc.boolean(), { minLength: 1, maxLength: 40 }), (holds) => {
        const counts = countByCluster(clustersOf("test", undefined, holds.length), (r) => holds[r]);
        const successes = holds.filter(Boolean).length;
        expect(clusteredShare(counts, 0.9)).toEqual(
          proportionInterval({ successes, trials: holds.length }, { level: 0.9 }),
        );
      }),
    );
  });

  it("counts children where all rows are alike, and needs two children otherwise", () => {
    expect(clusteredShare({ successes: [2, 2, 1], rows: [2, 2, 1] }, 0.95)).toEqual(
      wilsonEstimate(1, 3, 0.95, "wilson-on-children"),
    );
    expect(clusteredShare({ successes: [1], rows: [2] }, 0.95).kind).toBe("undefined");
    expect(clusteredShare({ successes: [0], rows: [0] }, 0.95).kind).toBe("undefined");
  });

  // the rooms had two estimators, which disagreed on eyes that are unlike
  it("is the same number in accuracy and in agreement", () => {
    const eyes = fc.array(fc.tuple(fc.boolean(), fc.integer({ min: 0, max: 8 })), {
      minLength: 2,
      maxLength: 40,
    });
    fc.assert(
      fc.property(eyes, (rows) => {
        const subjects = rows.map(([, child]) => child);
        const test = rows.map(([yes]) => Number(yes));
        const ones = rows.map(() => 1);
        const { sensitivity } = clusteredAccuracy({ test, reference: ones, subjects });
        const within = withinDifference({ test, reference: ones, subjects }, { acceptable: [0.5] })
          .shares[0].within;
        if (sensitivity.kind === "undefined") expect(within.kind).toBe("undefined");
        else expect(within).toEqual(sensitivity);
      }),
    );
  });

  it("one eye of each child within and one without: 100 children are not worth more than 200 rows", () => {
    const subjects = Array.from({ length: 200 }, (_, row) => row >> 1);
    const test = subjects.map((_, row) => row % 2);
    const { within } = withinDifference(
      { test, reference: test.map(() => 1), subjects },
      { acceptable: [0.5] },
    ).shares[0];
    const { low, high } = known(proportionInterval({ successes: 100, trials: 200 }));
    expect(within.low).toBeCloseTo(low, 12);
    expect(within.high).toBeCloseTo(high, 12);
  });
});

// own enumeration of every outcome of m pairs of eyes: no random numbers
describe("exact coverage of 95 % limits for pairs of eyes", () => {
  const shares = [0.02, 0.05, 0.1, 0.2, 0.5, 0.8, 0.9, 0.95, 0.98];
  const pairs = [13, 25, 50, 100, 200];
  it.each([
    ["alike, correlation .8", () => 0.8, 0.952, 0.93],
    ["independent", () => 0, 0.953, 0.908],
    ["as unlike as p allows (nine tenths)", unlike, 0.965, 0.907],
  ] as const)("%s", (_, correlation, mean, least) => {
    const found = pairs.flatMap((m) => shares.map((p) => coverage(m, p, correlation(p))));
    // stated to three decimals
    const average = found.reduce((sum, one) => sum + one, 0) / found.length;
    expect(Math.abs(average - mean)).toBeLessThan(0.00051);
    expect(Math.abs(Math.min(...found) - least)).toBeLessThan(0.00051);
  });
});

function unlike(p: number): number {
  const rarer = Math.min(p, 1 - p);
  return (-0.9 * rarer) / (1 - rarer);
}

/** Probability that the limits hold p, over all numbers of pairs with two, one and no success. */
function coverage(m: number, p: number, correlation: number): number {
  const both = p * p + correlation * p * (1 - p);
  const one = 2 * p * (1 - p) * (1 - correlation);
  const logs = [both, one, 1 - both - one].map(Math.log);
  const logFactorial = [0];
  for (let k = 1; k <= m; k++) logFactorial.push(logFactorial[k - 1] + Math.log(k));
  let covered = 0;
  for (let two = 0; two <= m; two++) {
    for (let single = 0; two + single <= m; single++) {
      const counts = [two, single, m - two - single];
      const log = counts.reduce(
        (sum, count, at) => sum + count * logs[at] - logFactorial[count],
        logFactorial[m],
      );
      if (log < -30) continue;
      const successes = new Uint8Array(m).fill(2, 0, two).fill(1, two, two + single);
      const share = known(clusteredShare({ successes, rows: new Uint8Array(m).fill(2) }, 0.95));
      if (share.low <= p && p <= share.high) covered += Math.exp(log);
    }
  }
  return covered;
}
