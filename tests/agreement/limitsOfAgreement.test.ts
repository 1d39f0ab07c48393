import { describe, expect, test } from "vitest";
import { limitsOfAgreement } from "../../src/agreement/index.js";
import { pairedLimitFactors, singleLimitFactors } from "../../src/agreement/limits/limitFactors.js";
import { bloodPressure } from "./blandAltman1999.js";
import { childrenRows, equivalents } from "./children.js";

// Bland and Altman 1986, Lancet i:307-310: first readings of two peak-flow meters, 17 people (l/min).
const large = [494, 395, 516, 434, 476, 557, 413, 442, 650, 433, 417, 656, 267, 478, 178, 423, 427];
const mini = [512, 430, 520, 428, 500, 600, 364, 380, 658, 445, 432, 626, 260, 477, 259, 350, 451];
const z = 1.959963984540054;

describe("published: Bland and Altman 1986", () => {
  const result = limitsOfAgreement(
    { test: large, reference: mini },
    { multiplier: 2, interval: "approximate" },
  );

  test("bias, SD and limits of 2 SD (values from memory, but the data reproduce every digit)", () => {
    expect(result.bias.value).toBeCloseTo(-2.1, 1);
    expect(result.sd.value).toBeCloseTo(38.8, 1);
    // Printed -79.7 and 75.5 from the rounded SD: 0.1 of rounding.
    expect(Math.abs(result.lower.value - -79.7)).toBeLessThan(0.1);
    expect(Math.abs(result.upper.value - 75.5)).toBeLessThan(0.1);
    expect(result.bias.low).toBeCloseTo(-22.0, 0);
    expect(result.bias.high).toBeCloseTo(17.8, 1);
  });

  test("intervals of the limits (printed after rounding: tolerance 0.2)", () => {
    expect(Math.abs(result.lower.low - -114.3)).toBeLessThan(0.2);
    expect(Math.abs(result.lower.high - -45.1)).toBeLessThan(0.2);
    expect(Math.abs(result.upper.low - 40.9)).toBeLessThan(0.2);
    expect(Math.abs(result.upper.high - 110.1)).toBeLessThan(0.2);
  });

  test("limits of 1.96 SD: -78.10 and 73.86 (quoted in print)", () => {
    const exact = limitsOfAgreement({ test: large, reference: mini });
    expect(exact.lower.value).toBeCloseTo(-78.1, 2);
    expect(exact.upper.value).toBeCloseTo(73.86, 2);
    // scipy 1.17.1: mean + nct.ppf([.025, .975], 16, z * 17 ** .5) / 17 ** .5 * sd
    expect(exact.upper.low).toBeCloseTo(48.8596, 3);
    expect(exact.upper.high).toBeCloseTo(119.9255, 3);
  });
});

describe("exact factors", () => {
  test("of one limit, scipy's noncentral t (values in tests/inference)", () => {
    const { inner, outer } = singleLimitFactors(17, z, 0.95);
    expect(inner).toBeCloseTo(1.315029371088243, 12);
    expect(outer).toBeCloseTo(3.1482714396616425, 12);
  });

  test("of the pair, Carkeet 2015 (Optom Vis Sci 92:e71-e80), quoted to four decimals", () => {
    const printed: [df: number, gamma95: [number, number], gamma90: [number, number]][] = [
      [4, [1.2397, 6.1569], [1.3481, 5.0769]],
      [9, [1.3915, 3.7706], [1.4778, 3.3934]],
    ];
    for (const [df, outerPair, innerPair] of printed) {
      const at95 = pairedLimitFactors(df + 1, z, 0.95);
      const at90 = pairedLimitFactors(df + 1, z, 0.9);
      expect([at95.inner, at95.outer].map(fourDecimals)).toEqual(outerPair);
      expect([at90.inner, at90.outer].map(fourDecimals)).toEqual(innerPair);
    }
    // R 4.2, integrate() over the mean (tests/reference values of the same cases, df 99).
    const wide = pairedLimitFactors(100, z, 0.95);
    expect(wide.inner).toBeCloseTo(1.72828770712327, 6);
    expect(wide.outer).toBeCloseTo(2.28956845522597, 6);
  });
});

describe("children data, right eyes as independent rows", () => {
  // Computed in R 4.2 and scipy from the same file; four decimals.
  const expected = {
    screener_pre: [538, -0.2066, 1.4699, -3.0874, 2.6743, -3.3113, -2.8853, 2.4722, 2.8982],
    autoref_pre: [561, -0.358, 0.3925, -1.1273, 0.4112, -1.1858, -1.0744, 0.3583, 0.4697],
  };
  for (const [source, values] of Object.entries(expected)) {
    test(source, () => {
      const { test: reading, reference } = equivalents(source, "OD");
      const r = limitsOfAgreement({ test: reading, reference });
      const seen = [r.bias.value, r.sd.value, r.lower.value, r.upper.value];
      const limits = [r.lower.low, r.lower.high, r.upper.low, r.upper.high];
      expect([r.n, ...[...seen, ...limits].map(fourDecimals)]).toEqual(values);
      expect(r.interval).toBe("exact");
    });
  }
});

describe("children data, both eyes", () => {
  // Computed in R 4.2 from the same file with bias ± 1.96 SD; four decimals.
  const expected = {
    autoref_pre: [1117, -0.3738, -1.2216, 0.4741],
    screener_pre: [1071, -0.2535, -2.7908, 2.2838],
  };
  for (const [source, values] of Object.entries(expected)) {
    test(`${source}, rows taken as independent`, () => {
      const { test: reading, reference } = equivalents(source, "both");
      const r = limitsOfAgreement({ test: reading, reference }, { multiplier: 1.96 });
      expect([r.n, ...[r.bias.value, r.lower.value, r.upper.value].map(fourDecimals)]).toEqual(
        values,
      );
      expect(r.notes[0]).toContain("assume independent rows");
    });
  }

  test("with subjects, exact is refused and the alternatives are named", () => {
    const { test: reading, reference, subjects } = equivalents("screener_pre", "both");
    expect(() =>
      limitsOfAgreement({ test: reading, reference, subjects }, { interval: "exact" }),
    ).toThrow(/"mover", "bootstrap" or "approximate"/);
  });

  test("with subjects, the intervals widen and the limits hardly move", () => {
    const { test: reading, reference, subjects } = equivalents("screener_pre", "both");
    const plain = limitsOfAgreement({ test: reading, reference });
    const clustered = limitsOfAgreement(
      { test: reading, reference, subjects },
      { replicates: 500 },
    );
    expect(clustered.interval).toBe("mover");
    expect(clustered.excessKurtosis).toBeCloseTo(33.9, 1);
    expect(Math.abs(clustered.lower.value - plain.lower.value)).toBeLessThan(0.02);
    const width = (r: { low: number; high: number }) => r.high - r.low;
    expect(width(clustered.lower)).toBeGreaterThan(width(plain.lower));
    // The plain interval is about 3.2 times too narrow against a bootstrap over children.
    const ratio = width(clustered.bootstrap!.lower) / width(plain.lower);
    expect(ratio).toBeGreaterThan(2.6);
    expect(ratio).toBeLessThan(3.8);
  });
});

describe("published panels of the children data (stated equivalents, reference minus device there)", () => {
  // In our direction, with 1.96 SD; recomputed in R 4.2 from the same file, four decimals.
  const expected = {
    autoref_pre: [1118, -0.3757, -1.2595, 0.5082],
    screener_pre: [1072, -0.2563, -2.801, 2.2884],
  };
  for (const [source, values] of Object.entries(expected)) {
    test(source, () => {
      const data = { test: [] as number[], reference: [] as number[] };
      for (const row of childrenRows()) {
        const cells = [row[`${source}_sph`], row[`${source}_cyl`], row.cyclo_se];
        if (cells.includes("")) continue;
        data.test.push(Number(cells[0]) + Number(cells[1]) / 2);
        data.reference.push(Number(cells[2]));
      }
      const r = limitsOfAgreement(data, { multiplier: 1.96 });
      const seen = [r.bias.value, r.lower.value, r.upper.value].map(fourDecimals);
      expect([r.n, ...seen]).toEqual(values);
    });
  }
});

describe("shape and share outside", () => {
  const data = {
    test: bloodPressure.observer.map(([first]) => first),
    reference: bloodPressure.machine.map(([first]) => first),
  };

  test("normality: scipy 1.10.1 normaltest of the blood-pressure differences", () => {
    const { normality } = limitsOfAgreement(data);
    expect(normality?.statistic).toBeCloseTo(52.03084758000938, 9);
    expect(normality?.p).toBeCloseTo(5.030892108417149e-12, 14);
    // stats.normaltest([(i * 37 % 101) / 10 for i in range(40)])
    const even = Array.from({ length: 40 }, (_, i) => ((i * 37) % 101) / 10);
    const flat = limitsOfAgreement({ test: even, reference: even.map(() => 0) }).normality;
    expect(flat?.statistic).toBeCloseTo(8.730831873730176, 9);
    expect(flat?.p).toBeCloseTo(0.012709367781122763, 9);
  });

  test("skipped where asked, undefined for few rows", () => {
    const skipped = limitsOfAgreement(data, { normality: "skip" });
    expect(skipped).not.toHaveProperty("normality");
    expect(skipped).not.toHaveProperty("skewness");
    expect(limitsOfAgreement({ test: large, reference: mini })).not.toHaveProperty("normality");
  });

  test("skewness and excess kurtosis: scipy 1.10.1 of the peak-flow differences", () => {
    const r = limitsOfAgreement({ test: large, reference: mini });
    expect(r.skewness).toBeCloseTo(0.25710481272770563, 10);
    expect(r.excessKurtosis).toBeCloseTo(-0.06271424840411655, 10);
  });

  test("outside, counted by hand", () => {
    const r = limitsOfAgreement(data);
    const differences = data.test.map((value, row) => value - data.reference[row]);
    const below = differences.filter((d) => d < r.lower.value).length;
    const above = differences.filter((d) => d > r.upper.value).length;
    expect(r.outside).toMatchObject({ below, above });
    expect(r.outside.share.value).toBeCloseTo((below + above) / 85, 12);
  });
});

function fourDecimals(value: number): number {
  return Math.round(value * 1e4) / 1e4;
}
