import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { createRandom } from "../../src/inference/index.js";
import { isOnGrid, noiseOf, onGrid, toThousandths, withoutNoise } from "../../src/rows/index.js";
import { areaUnderCurve, rocCurve } from "../../src/thresholds/index.js";

describe("the grid of thousandths", () => {
  it.each([
    [0.0005, 1],
    [-0.0005, -1],
    [4.4 + 0.327 / 2, 4564],
    [-4.4 - 0.327 / 2, -4564],
    [0.00049, 0],
    [-0.00049, 0],
    [-0, 0],
    [29.9995, 30_000],
    [-1.0005, -1001],
  ])("%d is %d", (value, wanted) => {
    expect(toThousandths(value)).toBe(wanted);
    expect(onGrid(value)).toBe(wanted / 1000);
  });

  it("rounds S + C/2 of readings in thousandths as their integers say, halves away from zero", () => {
    const thousandths = fc.integer({ min: -30_000, max: 30_000 });
    fc.assert(
      fc.property(thousandths, thousandths, (S, C) => {
        const twice = 2 * S + C;
        const wanted = Math.sign(twice) * Math.floor((Math.abs(twice) + 1) / 2) + 0;
        expect(toThousandths(S / 1000 + C / 1000 / 2)).toBe(wanted);
        expect(toThousandths(-S / 1000 - C / 1000 / 2)).toBe(0 - wanted);
      }),
      { numRuns: 5000, seed: 20 },
    );
  });

  it("keeps what is not a number", () => {
    expect(toThousandths(Number.NaN)).toBeNaN();
    expect(onGrid(Number.NEGATIVE_INFINITY)).toBe(Number.NEGATIVE_INFINITY);
    expect([isOnGrid(-0.625), isOnGrid(0.1 + 0.2), isOnGrid(0.6255)]).toEqual([true, true, false]);
  });
});

describe("values without noise", () => {
  it("takes back what arithmetic on thousandths leaves behind", () => {
    const thousandths = fc.integer({ min: -30_000, max: 30_000 });
    fc.assert(
      fc.property(thousandths, thousandths, (S, half) => {
        expect(withoutNoise(S / 1000 + (2 * half) / 1000 / 2)).toBe((S + half) / 1000);
      }),
      { numRuns: 5000, seed: 21 },
    );
  });

  it("leaves scores and probabilities as they are, in their order", () => {
    fc.assert(
      fc.property(fc.double({ min: -1000, max: 1000, noNaN: true }), (value) => {
        fc.pre(Math.abs(value * 1000 - Math.round(value * 1000)) > 1e-5);
        expect(withoutNoise(value)).toBe(value);
      }),
      { numRuns: 2000, seed: 22 },
    );
    expect([1e-9, 0.1234567891, 0.9999999999].map(withoutNoise)).toEqual([
      1e-9, 0.1234567891, 0.9999999999,
    ]);
    expect(Object.is(withoutNoise(-0), 0)).toBe(true);
    // the noise of a sum grows with its size
    expect(withoutNoise(4000.3 + 0.1 + 0.1 + 0.1)).toBe(4000.6);
    expect([noiseOf(0.5), noiseOf(-2), noiseOf(1000)]).toEqual([1e-12, 2e-12, 1e-9]);
  });
});

describe("ties of M = S + C/2, readings in hundredths", () => {
  // 600 invented children; the true values are whole numbers of half hundredths
  const random = createRandom(600);
  const children = Array.from({ length: 600 }, () => {
    const S = random.integer(901) - 600;
    const C = -random.integer(251);
    return { S, C, halves: 2 * S + C, sick: random.uniform() < (2 * S + C < -300 ? 0.7 : 0.2) };
  });
  const values = children.map(({ S, C }) => S / 100 + C / 100 / 2);
  const condition = children.map(({ sick }) => sick);

  it("are as many as the whole numbers are", () => {
    const distinct = new Set(children.map(({ halves }) => halves));
    // as doubles they are more: that is the noise
    expect(new Set(values).size).toBeGreaterThan(distinct.size);
    for (const positiveWhen of ["high", "low"] as const) {
      const { points } = rocCurve({ values, condition }, { positiveWhen });
      expect(points.length).toBe(distinct.size + 1);
      const at = points.find(({ cutOff }) => cutOff === children[0]!.halves / 200)!;
      const sign = positiveWhen === "high" ? 1 : -1;
      const beyond = children.filter(({ halves }) => sign * (halves - children[0]!.halves) >= 0);
      expect(at.truePositive + at.falsePositive).toBe(beyond.length);
    }
  });

  it("count one half in the area", () => {
    let wins = 0;
    const [sick, well] = [true, false].map((is) => children.filter((child) => child.sick === is));
    for (const one of sick!) {
      for (const other of well!) wins += (1 + Math.sign(other.halves - one.halves)) / 2;
    }
    const area = areaUnderCurve({ values, condition }, { positiveWhen: "low" });
    expect(area.value).toBeCloseTo(wins / (sick!.length * well!.length), 12);
  });

  it("are found where there are too many values for look-up", () => {
    const many = Array.from({ length: 5000 }, (_, k) => k + 10 + 0.1234567);
    const both = { values: [...values, ...many], condition: [...condition, ...many.map(() => 1)] };
    const distinct = new Set(children.map(({ halves }) => halves)).size + many.length;
    expect(rocCurve(both, { positiveWhen: "low" }).points.length).toBe(distinct + 1);
  });
});
