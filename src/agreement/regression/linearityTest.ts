import { type Undefined, undefinedBecause } from "../../results/index.js";

/** Test of Passing and Bablok 1983 that the relation is a straight line. */
export interface LinearityTest {
  readonly kind: "linearity-test";
  readonly above: number;
  readonly below: number;
  readonly onLine: number;
  /** Largest cumulative score over sqrt(below + 1). */
  readonly statistic: number;
  /** Of Kolmogorov's limiting distribution; small means not a straight line. */
  readonly p: number;
}

/**
 * Cumulative sum of scores +sqrt(below/above), -sqrt(above/below) along the line (1.36 at 5 %).
 * Rows at one place along the line are summed before they are looked at, so that row order is
 * irrelevant.
 */
export function linearityTest(
  x: ArrayLike<number>,
  y: ArrayLike<number>,
  slope: number,
  intercept: number,
): LinearityTest | Undefined {
  const n = x.length;
  const scale = largestTerm(x, y, slope, intercept);
  const signs = Array.from(x, (value, row) => {
    const residual = y[row] - intercept - slope * value;
    return Math.abs(residual) <= 1e-12 * scale ? 0 : Math.sign(residual);
  });
  const above = signs.filter((sign) => sign > 0).length;
  const below = signs.filter((sign) => sign < 0).length;
  if (above === 0 || below === 0) return undefinedBecause("no rows on one side of the line");
  if (slope === 0) return undefinedBecause("the line is level: rows have no order along it");
  const place = Float64Array.from(
    x,
    (value, row) => (y[row] + value / slope - intercept) / Math.sqrt(1 + 1 / (slope * slope)),
  );
  const order = Int32Array.from({ length: n }, (_, row) => row).sort((a, b) => place[a] - place[b]);
  let [sum, largest] = [0, 0];
  for (let k = 0; k < n; k++) {
    const sign = signs[order[k]];
    sum += sign > 0 ? Math.sqrt(below / above) : sign < 0 ? -Math.sqrt(above / below) : 0;
    if (k + 1 === n || place[order[k + 1]] > place[order[k]]) {
      largest = Math.max(largest, Math.abs(sum));
    }
  }
  const statistic = largest / Math.sqrt(below + 1);
  return {
    kind: "linearity-test",
    above,
    below,
    onLine: n - above - below,
    statistic,
    p: kolmogorovTail(statistic),
  };
}

/** Against which a residual is 0 but for rounding. */
function largestTerm(
  x: ArrayLike<number>,
  y: ArrayLike<number>,
  slope: number,
  intercept: number,
): number {
  let largest = Math.abs(intercept);
  for (let row = 0; row < x.length; row++) {
    largest = Math.max(largest, Math.abs(y[row]), Math.abs(slope * x[row]));
  }
  return largest;
}

/** P(sup |Brownian bridge| > h). */
function kolmogorovTail(h: number): number {
  if (h < 0.2) return 1;
  let sum = 0;
  for (let k = 1; k <= 100; k++) sum += (k % 2 === 1 ? 2 : -2) * Math.exp(-2 * k * k * h * h);
  return Math.min(1, Math.max(0, sum));
}
