import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { oddsRatioScore } from "../../src/inference/oddsRatioInterval.js";
import { riskRatioScore } from "../../src/inference/riskRatioInterval.js";

const chiSquare = 1.959963984540054 ** 2;

/** Koopman's chi-square (1984), the second proportion by bisection on the derivative of the likelihood. */
function koopman(x1: number, n1: number, x2: number, n2: number, ratio: number): number {
  let low = 0;
  let high = Math.min(1, 1 / ratio);
  for (let i = 0; i < 200; i++) {
    const p = (low + high) / 2;
    const slope =
      (x1 + x2) / p -
      ((n1 - x1) * ratio) / (1 - ratio * p || 1e-300) -
      (n2 - x2) / (1 - p || 1e-300);
    if (slope > 0) low = p;
    else high = p;
  }
  const p = (low + high) / 2;
  const variance = (ratio * p * (1 - ratio * p)) / n1 + (ratio * ratio * p * (1 - p)) / n2;
  return (x1 / n1 - (ratio * x2) / n2) ** 2 / variance;
}

/** The same for an odds ratio: the first cell by bisection on the cross ratio, not in closed form. */
function cornfield(x1: number, n1: number, x2: number, n2: number, ratio: number): number {
  const m = x1 + x2;
  let low = Math.max(0, m - n2);
  let high = Math.min(n1, m);
  for (let i = 0; i < 200; i++) {
    const a = (low + high) / 2;
    if (a * (n2 - m + a) < ratio * (n1 - a) * (m - a)) low = a;
    else high = a;
  }
  const a = (low + high) / 2;
  return (x1 - a) ** 2 * (1 / a + 1 / (n1 - a) + 1 / (m - a) + 1 / (n2 - m + a));
}

const sizes = fc.constantFrom(1, 2, 5, 17, 60, 400, 3000, 50000);
const counts = fc
  .tuple(sizes, sizes)
  .chain(([n1, n2]) =>
    fc.tuple(
      fc.integer({ min: 0, max: n1 }),
      fc.constant(n1),
      fc.integer({ min: 0, max: n2 }),
      fc.constant(n2),
    ),
  );

describe("score intervals of ratios", () => {
  it.each([
    ["ratio", riskRatioScore, koopman],
    ["odds ratio", oddsRatioScore, cornfield],
  ] as const)(
    "%s: the limits lie where the chi-square is that of the level",
    (_name, interval, score) => {
      fc.assert(
        fc.property(counts, ([x1, n1, x2, n2]) => {
          const result = interval({ x1, n1, x2, n2 }, 0.95);
          const limits = [result.low, result.kind === "estimate" ? result.high : undefined];
          for (const limit of limits) {
            if (limit === undefined || limit === 0) continue;
            expect(Number.isFinite(limit)).toBe(true);
            // the independent forms lose digits by cancellation near proportions of 1
            expect(Math.abs(score(x1, n1, x2, n2, limit) / chiSquare - 1)).toBeLessThan(1e-4);
          }
          if (result.kind === "estimate") {
            expect(result.low).toBeLessThanOrEqual(result.value);
            expect(result.high).toBeGreaterThanOrEqual(result.value);
          }
        }),
        { numRuns: 2000, seed: 8 },
      );
    },
  );

  it("the ratio turned round is its inverse, and a narrower level lies within", () => {
    fc.assert(
      fc.property(counts, ([x1, n1, x2, n2]) => {
        const one = riskRatioScore({ x1, n1, x2, n2 }, 0.95);
        const other = riskRatioScore({ x1: x2, n1: n2, x2: x1, n2: n1 }, 0.95);
        const narrower = riskRatioScore({ x1, n1, x2, n2 }, 0.8);
        if (one.kind === "undefined" || other.kind === "undefined") return;
        expect(other.low * one.high).toBeCloseTo(1, 6);
        expect(narrower.low).toBeGreaterThanOrEqual(one.low - 1e-9);
      }),
    );
  });
});
