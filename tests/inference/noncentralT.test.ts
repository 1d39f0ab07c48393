import fc from "fast-check";
import { expect, test } from "vitest";
import { tCdf } from "../../src/inference/distributions.js";
import { noncentralTCdf, noncentralTQuantile } from "../../src/inference/noncentralT.js";

// python3 (scipy 1.17.1): from scipy.stats import nct
// nct.ppf(p, n - 1, 1.959963984540054 * n ** .5) / n ** .5
const factors: [n: number, p: number, factor: number][] = [
  [3, 0.025, 0.7126470461442106],
  [3, 0.975, 12.8161972728683],
  [17, 0.025, 1.315029371088243],
  [17, 0.975, 3.1482714396616425],
  [85, 0.025, 1.6362566121121198],
  [85, 0.975, 2.379403164264011],
  [568, 0.025, 1.8259348550958516],
  [568, 0.975, 2.1079606797576136],
  [1117, 0.025, 1.863115809598453],
  [1117, 0.975, 2.0638993596461095],
];

test("quantiles equal scipy's noncentral t to 1e-12", () => {
  for (const [n, p, factor] of factors) {
    const noncentrality = 1.959963984540054 * Math.sqrt(n);
    const own = noncentralTQuantile(p, n - 1, noncentrality) / Math.sqrt(n);
    expect(Math.abs(own / factor - 1), `n ${n}, p ${p}`).toBeLessThan(1e-12);
  }
});

test("probabilities equal scipy's", () => {
  // nct.cdf([2, -3, 30], [1, 2.5, 3], 1)
  expect(noncentralTCdf(2, 1, 1)).toBeCloseTo(0.62287196, 7);
  expect(noncentralTCdf(-3, 2.5, 1)).toBeCloseTo(0.00517721, 7);
  expect(noncentralTCdf(30, 3, 1)).toBeCloseTo(0.99979193, 7);
  // nct.ppf([1e-6, 1 - 1e-6], 2, 1)
  expect(noncentralTQuantile(1e-6, 2, 1)).toBeCloseTo(-274.47930561166845, 6);
  expect(noncentralTQuantile(1 - 1e-6, 2, 1)).toBeCloseTo(1387.3203140371866, 5);
});

test("the integral by definition, slowly: Simpson over the chi density", () => {
  for (const [t, df, noncentrality] of [
    [1.2, 4, 0.7],
    [5, 9, 4.4],
    [-1, 12, 1.5],
  ]) {
    expect(noncentralTCdf(t, df, noncentrality)).toBeCloseTo(bySimpson(t, df, noncentrality), 10);
  }
});

test("laws: central t at 0, quantile inverts, mirror", () => {
  fc.assert(
    fc.property(
      fc.double({ min: 1, max: 2000, noNaN: true }),
      fc.double({ min: -40, max: 40, noNaN: true }),
      fc.double({ min: 0.001, max: 0.999, noNaN: true }),
      (df, noncentrality, p) => {
        const t = noncentralTQuantile(p, df, noncentrality);
        expect(noncentralTCdf(t, df, noncentrality)).toBeCloseTo(p, 10);
        expect(noncentralTCdf(-t, df, -noncentrality)).toBeCloseTo(1 - p, 10);
        expect(noncentralTCdf(t / 10, df, 0)).toBeCloseTo(tCdf(t / 10, df), 10);
      },
    ),
    { numRuns: 100, seed: 1 },
  );
});

test("refuses what has no answer", () => {
  expect(() => noncentralTQuantile(1, 5, 0)).toThrow("p between 0 and 1, got 1");
  expect(() => noncentralTCdf(1, 0, 0)).toThrow("positive degrees of freedom, got 0");
});

function bySimpson(t: number, df: number, noncentrality: number): number {
  const steps = 200000;
  const top = 4;
  const h = top / steps;
  let above = 0;
  let constant = 0;
  for (let k = 1; k < steps; k++) {
    const u = k * h;
    const weight = (k % 2 === 1 ? 4 : 2) * Math.exp((df - 1) * Math.log(u) - (df * u * u) / 2);
    constant += weight;
    above += weight * normal(t * u - noncentrality);
  }
  return above / constant;
}

/** Normal distribution function by its continued fraction and series (Abramowitz and Stegun 26.2). */
function normal(z: number): number {
  if (Math.abs(z) > 6) return z > 0 ? 1 : 0;
  let sum = z;
  let term = z;
  for (let k = 1; k < 200; k++) {
    term *= (z * z) / (2 * k + 1);
    sum += term;
  }
  return 0.5 + (sum * Math.exp((-z * z) / 2)) / Math.sqrt(2 * Math.PI);
}
