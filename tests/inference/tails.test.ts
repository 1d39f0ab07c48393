import { expect, test } from "vitest";
import {
  chiSquareCdf,
  chiSquareQuantile,
  chiSquareTail,
  fTail,
  siteJackknife,
  tQuantile,
  twoSidedP,
  twoSidedT,
} from "../../src/inference/index.js";

const close = (value: number, reference: number, relative = 1e-11) =>
  expect(Math.abs(value / reference - 1)).toBeLessThan(relative);

test("chi-square quantiles in both tails and above 2,000 degrees of freedom (scipy 1.10.1)", () => {
  close(chiSquareQuantile(0.975, 2500), 2640.4748532523568);
  close(chiSquareQuantile(0.975, 10_000), 10279.07017988759);
  close(chiSquareQuantile(0.025, 1_000_000), 997230.0871432901);
  close(chiSquareQuantile(0.975, 1_000_000), 1002773.701467926);
  close(chiSquareQuantile(0.975, 100), 129.5611971858366);
  close(chiSquareQuantile(1e-6, 5), 0.012896160206497087, 1e-10);
  close(chiSquareQuantile(1 - 1e-6, 3000), 3382.6989801496434, 1e-10);
});

test("the quantile undoes the distribution function", () => {
  for (const df of [0.1, 0.5, 1, 2, 7.3, 40, 2001, 123_456]) {
    for (const p of [1e-9, 0.001, 0.3, 0.5, 0.9, 0.999]) {
      close(chiSquareCdf(chiSquareQuantile(p, df), df), p, 1e-9);
    }
  }
});

test("small probabilities are tails in their own right, and never 0 (scipy 1.10.1)", () => {
  close(chiSquareTail(1000, 1), 1.7958327848007363e-219, 1e-10);
  close(fTail(1000, 3, 100), 2.1385167861339104e-74, 1e-10);
  close(twoSidedT(100, 50), 2.960898892025241e-59, 1e-10);
  expect(twoSidedP(60)).toBe(Number.MIN_VALUE);
  expect(twoSidedP(0)).toBe(1);
  expect(fTail(0, 2, 9)).toBe(1);
  close(twoSidedP(1.959963984540054), 0.05, 1e-12);
});

test("jackknife over sites of equal size: the t interval of the sites' means, by hand", () => {
  const means = [1.5, 2.5, 1, 3.5, 2, 3];
  const values = means.flatMap((mean) => [mean - 0.5, mean + 0.5]);
  const site = means.flatMap((_, at) => [`s${at}`, `s${at}`]);
  const found = siteJackknife(
    (rows) => rows.reduce((sum, row) => sum + values[row], 0) / rows.length,
    { site },
  );
  if (found.kind === "undefined") throw new Error(found.reason);
  const centre = means.reduce((sum, mean) => sum + mean, 0) / 6;
  const se = Math.sqrt(means.reduce((sum, mean) => sum + (mean - centre) ** 2, 0) / 5 / 6);
  expect(found.se).toBeCloseTo(se, 12);
  expect(found.low).toBeCloseTo(centre - tQuantile(0.975, 5) * se, 10);
  expect(found.method).toBe("site-jackknife");
});

test("few effective sites are named rough, fewer than two give no interval, 0 and 1 by sites", () => {
  const share = (rows: readonly number[]) =>
    rows.filter((row) => row % 3 === 0).length / rows.length;
  const site = (of: (row: number) => number) => Array.from({ length: 60 }, (_, row) => of(row));
  const options = { scale: "logit" } as const;
  expect(siteJackknife(share, { ...options, site: site((row) => row % 4) })).toMatchObject({
    method: "site-jackknife-rough",
  });
  const lopsided = site((row) => (row < 55 ? 0 : 1));
  expect(siteJackknife(share, { ...options, site: lopsided }).kind).toBe("undefined");
  const all = siteJackknife(() => 1, { ...options, site: site((row) => row % 10) });
  // Clopper and Pearson of 10 of 10: .025^(1/10).
  expect(all).toMatchObject({ value: 1, high: 1, method: "clopper-pearson-on-sites" });
  if (all.kind === "estimate") expect(all.low).toBeCloseTo(0.025 ** 0.1, 10);
});
