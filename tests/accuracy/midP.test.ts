// Why rates are drawn by mid-p: what few cases do to the limits, without simulation.
import { describe, expect, it } from "vitest";
import { cellDraws } from "../../src/accuracy/verification/cellDraws.js";
import { ratedCells } from "../../src/accuracy/verification/cellRates.js";
import { binomialCdf, chiSquareQuantile } from "../../src/inference/index.js";

/** Poisson chances of 0, 1, ... */
function chances(mean: number): number[] {
  const list = [Math.exp(-mean)];
  for (let x = 1; x < 120; x++) list.push((list[x - 1]! * mean) / x);
  return list;
}

/** Least coverage of 95 % limits of a Poisson mean from 0.05 to 12, and the greatest error on one side. */
function worst(limits: (x: number) => readonly [number, number]) {
  const known = Array.from({ length: 120 }, (_, x) => limits(x));
  let [coverage, oneSide] = [1, 0];
  for (let mean = 0.05; mean < 12; mean += 0.005) {
    const list = chances(mean);
    const sum = (misses: (x: number) => boolean) =>
      list.reduce((total, chance, x) => total + (misses(x) ? chance : 0), 0);
    const below = sum((x) => known[x]![1] < mean);
    const above = sum((x) => known[x]![0] > mean);
    coverage = Math.min(coverage, 1 - below - above);
    oneSide = Math.max(oneSide, below, above);
  }
  return { coverage, oneSide };
}

/** Quantile of a gamma distribution. */
const gamma = (p: number, shape: number) => (shape === 0 ? 0 : chiSquareQuantile(p, 2 * shape) / 2);
const withAdded = (added: number) =>
  worst((x) => [x === 0 ? 0 : gamma(0.025, x + added), gamma(0.975, x + added)]);

/** Chance of at most x cases, half of those of exactly x not counted. */
function midTail(mean: number, x: number): number {
  const list = chances(mean);
  return list.slice(0, x).reduce((sum, one) => sum + one, 0) + list[x]! / 2;
}
function solve(f: (mean: number) => number, low: number, high: number): number {
  for (let step = 0; step < 60; step++) {
    const middle = (low + high) / 2;
    if (f(middle) > 0) low = middle;
    else high = middle;
  }
  return low;
}

describe("few missed cases", () => {
  it("a third of a case added covers .85 where two are expected, one half .90, mid-p never below .91", () => {
    const midP = worst((x) => [
      x === 0 ? 0 : solve((mean) => midTail(mean, x) - 0.975, 0, x + 1),
      solve((mean) => midTail(mean, x) - 0.025, x, 4 * x + 20),
    ]);
    expect(withAdded(1 / 3).coverage).toBeCloseTo(0.85, 2);
    expect(withAdded(1 / 3).oneSide).toBeCloseTo(0.134, 2);
    expect(withAdded(1 / 2).coverage).toBeCloseTo(0.9, 2);
    expect(midP.coverage).toBeCloseTo(0.917, 2);
    expect(midP.oneSide).toBeLessThan(0.0501);
  });

  it.each([
    [0, 40],
    [1, 40],
    [3, 25],
    [25, 25],
  ])("draws of a rate, %i of %i, have the mid-p limits of the binomial", (cases, examined) => {
    const cell = {
      recorded: "pass",
      studied: "pass",
      group: "",
      n: 1e6,
      examined,
      cases,
      knownOnly: 0,
      own: false,
    } as const;
    const { prevalence } = cellDraws(
      ratedCells([cell]),
      {
        seed: 3,
        replicates: 200_000,
        level: 0.95,
        sizePrior: 0,
        rates: () => 1 / 2,
        rowsPerChild: 1,
      },
      ["prevalence"],
    );
    // chance of fewer than the cases and half of exactly as many, at each limit
    const tail = (p: number) =>
      (cases === 0 ? 0 : binomialCdf(cases - 1, examined, p)) / 2 +
      binomialCdf(cases, examined, p) / 2;
    if (cases === 0) expect(prevalence[0]).toBe(0);
    else expect(tail(prevalence[0])).toBeCloseTo(0.975, 2);
    if (cases === examined) expect(prevalence[1]).toBe(1);
    else expect(tail(prevalence[1])).toBeCloseTo(0.025, 2);
  });
});
