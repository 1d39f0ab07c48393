import { describe, expect, it } from "vitest";
import { createRandom, meanInterval } from "../../src/inference/index.js";

describe("meanInterval", () => {
  // R 4.2.2: t.test(sleep$extra[1:10])$conf.int; Student 1908, Biometrika 6:1-25, first drug
  it("Student's sleep data by R", () => {
    const extra = [0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0.0, 2.0];
    const result = meanInterval(extra);
    expect(result.value).toBeCloseTo(0.75, 12);
    expect(result.low).toBeCloseTo(-0.52978041352623, 9);
    expect(result.high).toBeCloseTo(2.02978041352623, 9);
  });

  it("covers the mean of normal values at its level, within 3.5 Monte Carlo errors", () => {
    const random = createRandom(20260801);
    const rounds = 20000;
    let covered = 0;
    for (let i = 0; i < rounds; i++) {
      const { low, high } = meanInterval(Array.from({ length: 5 }, () => 2 + 3 * random.normal()));
      if (low <= 2 && 2 <= high) covered++;
    }
    const error = Math.sqrt((0.95 * 0.05) / rounds);
    expect(Math.abs(covered / rounds - 0.95)).toBeLessThan(3.5 * error);
  });

  it("takes a Float64Array and leaves it as it was", () => {
    const values = Float64Array.of(1, 2, 3);
    expect(meanInterval(values).value).toBe(2);
    expect([...values]).toEqual([1, 2, 3]);
  });

  it("refuses one value, a missing value, a level of 95", () => {
    expect(() => meanInterval([1])).toThrow("meanInterval requires at least 2 values, got 1");
    expect(() => meanInterval([1, Number.NaN])).toThrow(/finite/);
    expect(() => meanInterval([1, 2], { level: 95 })).toThrow(/level/);
  });
});
