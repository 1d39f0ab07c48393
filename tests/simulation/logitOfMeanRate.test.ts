import { expect, test } from "vitest";
import { logitOfMeanRate } from "../../src/simulation/logitOfMeanRate.js";

/** The mean of 1 / (1 + exp(-(centre + spread z))) over standard normal z, by the trapezoid rule. */
function meanRate(centre: number, spread: number): number {
  let sum = 0;
  for (let at = -8000; at <= 8000; at++) {
    const z = at / 1000;
    sum += Math.exp(-(z * z) / 2) / (1 + Math.exp(-(centre + spread * z)));
  }
  return sum / 1000 / Math.sqrt(2 * Math.PI);
}

test("the mean over the spread gives the stated rate, checked by integration", () => {
  for (const rate of [0.01, 0.05, 0.2, 0.5, 0.8, 0.99]) {
    for (const spread of [0, 0.5, 1, 2]) {
      const found = meanRate(logitOfMeanRate(rate, spread), spread);
      expect(Math.abs(found - rate), `${rate} at ${spread}: ${found}`).toBeLessThan(
        spread > 1 ? 0.011 : 0.007,
      );
    }
  }
  // without it a rate of .05 at a spread of 2 would be .12
  expect(meanRate(Math.log(0.05 / 0.95), 2)).toBeGreaterThan(0.1);
});

test("the factor is (16 sqrt(3) / (15 pi)) squared", () => {
  const factor = ((16 * Math.sqrt(3)) / (15 * Math.PI)) ** 2;
  const logit = logitOfMeanRate(0.1, 1) / Math.log(0.1 / 0.9);
  expect(logit ** 2 - 1).toBeCloseTo(factor, 3);
});
